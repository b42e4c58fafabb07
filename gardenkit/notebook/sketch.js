// What follows the pointer while something is drawn. Nothing of it is told to the kernel: the sources are changed in place.
const corners = (at) => {
  const all = Array.from(clicked.data.x, (x, i) => [x, clicked.data.y[i]]);
  const way = rubber.tags[0];
  if (!way || all.length === 0) return [[], ""];
  const first = all[0], last = all[all.length - 1];
  if (way === "rectangle")
    return [[first, [at[0], first[1]], at, [first[0], at[1]], first],
      words(Math.abs(at[0] - first[0])) + " × " + words(Math.abs(at[1] - first[1]))];
  if (way === "side and depth" && all.length === 2) {
    const long = far(first, last), across = [-(last[1] - first[1]) / long, (last[0] - first[0]) / long];
    const deep = (at[0] - first[0]) * across[0] + (at[1] - first[1]) * across[1];
    const off = (p) => [p[0] + across[0] * deep, p[1] + across[1] * deep];
    return [[first, last, off(last), off(first), first], words(long) + " × " + words(Math.abs(deep))];
  }
  return [way === "line" || all.length < 2 ? [last, at] : [last, at, first], words(far(last, at))];
};
const at = [cb_obj.x, cb_obj.y];
const [line, text] = corners(at);
rubber.data.x = line.map((p) => p[0]);
rubber.data.y = line.map((p) => p[1]);
rubber.change.emit();
said.data.x = text ? [at[0]] : [];
said.data.y = text ? [at[1]] : [];
said.data.text = text ? [text] : [];
said.change.emit();
