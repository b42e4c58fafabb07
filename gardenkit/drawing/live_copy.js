// Puts the plants together for one month of one year: outlines grown to their size, ribs, flowers, and the words beside the plan.
const m = month.value - 1, y = year.value;
const empty = {
  plants: () => ({xs: [], ys: [], fill: [], alpha: [], line: [], width: [], dash: [], tip: []}),
  ribs: () => ({xs: [], ys: [], line: []}),
  flowers: () => ({x: [], y: [], radius: [], fill: [], line: []}),
};
const found = {};
for (const layer of ["low", "canopy"])
  for (const name in empty) found[`${layer}_${name}`] = empty[name]();
const inFlower = new Map();
let standing = 0;
const told = data.told ??= JSON.parse(data.text);
for (const p of told.plants) {
  const wide = p.spread[y - p.from];  // none before it is planted and when it is gone
  if (wide === undefined) continue;
  standing += 1;
  const kind = told.kinds[p.kind], form = told.forms[p.form];
  const r = wide / 2, leaf = kind.leaf[m], below = leaf == "below ground";
  const a = -p.turn * Math.PI / 180, c = r * Math.cos(a), s = r * Math.sin(a);
  const put = (xs, ys) => [
    xs.map((x, i) => x === null ? NaN : p.at[0] + c * x - s * ys[i]),
    xs.map((x, i) => x === null ? NaN : p.at[1] + s * x + c * ys[i]),
  ];
  const layer = kind.canopy ? "canopy" : "low";
  const body = found[`${layer}_plants`];
  const [xs, ys] = put(form.x, form.y);
  body.xs.push(xs); body.ys.push(ys);
  body.fill.push(kind.fill[m]); body.alpha.push(kind.alpha[m]); body.line.push(kind.line[m]);
  body.width.push(leaf == "evergreen" ? 1.6 : kind.canopy ? 1.0 : 0.7);
  body.dash.push(below || leaf == "bare" ? [3, 3] : []);
  const flower = kind.flower[m];
  const state = flower ? "in flower" : below ? "below ground" : leaf == "bare" ? "leafless" : leaf == "evergreen" ? "evergreen" : "in leaf";
  body.tip.push(`${kind.name}, ${kind.common} (${kind.key}): ${state}`);
  if (!below && r > 0.15 && form.rx.length) {
    const ribs = found[`${layer}_ribs`];
    const [rx, ry] = put(form.rx, form.ry);
    ribs.xs.push(rx); ribs.ys.push(ry); ribs.line.push(kind.line[m]);
  }
  if (!flower) continue;
  inFlower.set(kind.name, kind.common);
  const dots = found[`${layer}_flowers`];
  const size = Math.max(Math.min(0.055, 0.24 * r), 0.075 * r), count = r < 0.4 ? 5 : r < 0.8 ? 7 : 13;
  for (let i = 0; i < count; i++) {
    const angle = i * 2.39996 + p.n, reach = 0.8 * r * Math.sqrt((i + 0.6) / count);
    dots.x.push(p.at[0] + reach * Math.cos(angle)); dots.y.push(p.at[1] + form.squash * reach * Math.sin(angle));
    dots.radius.push(size); dots.fill.push(flower); dots.line.push(kind.edge[m]);
  }
}
for (const look of trees) for (const drawn of look.drawn) drawn.visible = look.months.includes(month.value);
for (const name in found) sources[name].data = found[name];
const words = document.getElementById("live-words");
if (words) {
  const names = [...inFlower].map(([name, common]) => `${name} (${common})`).sort();
  const when = y == 0 ? "the planting season" : `year ${y}`;
  const bloom = names.length ? `In flower: ${names.join("; ")}.` : "Nothing is in flower.";
  words.textContent = `${months[m]}, ${when}: ${standing} plants. ${bloom}`;
}
