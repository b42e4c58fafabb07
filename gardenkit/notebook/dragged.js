// While a handle is dragged: how far it is from what is about it, how long and large its shape is, and, in red, that it
// cannot stand there. Nothing of it is told to the kernel: the sources are changed in place.
const OWN = 0.002; // m: what lies this near a handle when it is taken hold of is its own
const ROW = 20; // px
const LOOSE = 0.6; // m that a corner of ground may reach past the boundary
const show = (lines, texts, bad) => {
  leads.data.xs = lines.map((l) => [l[0][0], l[1][0]]);
  leads.data.ys = lines.map((l) => [l[0][1], l[1][1]]);
  said.data.x = texts.map((t) => t[0][0]);
  said.data.y = texts.map((t) => t[0][1]);
  said.data.text = texts.map((t) => t[1]);
  // The measures of the spot stand one below the other under it (its name stands over it), to where there is room; what is wrong, first.
  const left = texts.length && texts[0][0][0] > plot.x_range.start + 0.6 * (plot.x_range.end - plot.x_range.start);
  said.data.x_offset = texts.map((t) => (t[2] === undefined ? 0 : left ? -24 : 24));
  said.data.y_offset = texts.map((t) => (t[2] ?? 0) * ROW);
  said.data.text_align = texts.map((t) => (t[2] === undefined ? "center" : left ? "right" : "left"));
  said.data.text_color = texts.map((t) => (t[3] ? "#ffffff" : ink));
  said.data.background_fill_color = texts.map((t) => (t[3] ? red : paper));
  refused.data.x = bad.map((p) => p[0]);
  refused.data.y = bad.map((p) => p[1]);
  for (const one of [leads, said, refused]) one.change.emit();
};
const onto = (p, a, b) => {
  const [x, y] = [b[0] - a[0], b[1] - a[1]], long = x * x + y * y;
  const t = long === 0 ? 0 : Math.max(0, Math.min(1, ((p[0] - a[0]) * x + (p[1] - a[1]) * y) / long));
  return [a[0] + t * x, a[1] + t * y];
};
const corner = (i, n) => [about.data.xs[i][n], about.data.ys[i][n]];
const nearest = (p, i) => {
  let best = [corner(i, 0), Infinity];
  for (let n = 1; n < about.data.xs[i].length; n++) {
    const q = onto(p, corner(i, n - 1), corner(i, n)), away = far(p, q);
    if (away < best[1]) best = [q, away];
  }
  return best;
};
const within = (p, i) => {
  let inside = false;
  for (let n = 1; n < about.data.xs[i].length; n++) {
    const [a, b] = [corner(i, n - 1), corner(i, n)];
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < a[0] + ((p[1] - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside;
  }
  return inside;
};
const family = (id) => id.slice(0, id.lastIndexOf(":") + 1);
const crosses = (a, b, c, d) => {
  const side = (p, q, r) => Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
};
// What is dragged with the other points of its shape, in their order.
const shape = (held) => {
  const id = String(handles.data.id[held]);
  if (!/\d$/.test(id) || handles.data.kind[held] !== "path") return null;
  const kin = Array.from(handles.data.id, (other, i) => [String(other), i]).filter(
    ([other, i]) => family(other) === family(id) && /\d$/.test(other) && handles.data.kind[i] === "path",
  );
  kin.sort((a, b) => Number(a[0].slice(family(a[0]).length)) - Number(b[0].slice(family(b[0]).length)));
  const points = kin.map(([, i]) => [handles.data.x[i], handles.data.y[i]]);
  return { at: kin.findIndex(([, i]) => i === held), points, closed: points.length > 2 && closed.test(id) };
};
const ground = (m2) => (units === "imperial" ? (m2 / 0.3048 ** 2).toFixed(0) + " sq ft" : m2.toFixed(1) + " m²");
const sizes = (own) => {
  const { at, points } = own, count = points.length;
  const ends = own.closed ? [(at + count - 1) % count, (at + 1) % count] : [at - 1, at + 1];
  const sides = ends.filter((n) => n >= 0 && n < count).map((n) => points[n]);
  const texts = sides.map((q) => [[(q[0] + points[at][0]) / 2, (q[1] + points[at][1]) / 2], words(far(q, points[at]))]);
  if (!own.closed) return [sides.map((q) => [points[at], q]), texts, ""];
  const twice = points.reduce((sum, p, n) => {
    const q = points[(n + 1) % count];
    return sum + p[0] * q[1] - q[0] * p[1];
  }, 0);
  return [sides.map((q) => [points[at], q]), texts, ground(Math.abs(twice) / 2)];
};
const closing = (points) => points.map((q, n) => [q, points[(n + 1) % points.length]]);
const about_of = (held) => [handles.data.about_x[held], handles.data.about_y[held]];
const about_turn = (p, middle, degrees) => {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const [x, y] = [p[0] - middle[0], p[1] - middle[1]];
  return [middle[0] + c * x + s * y, middle[1] - s * x + c * y];
};
// What is turned: its outline as it would lie, and its turn in whole degrees clockwise from plan up.
const turned = (p, held) => {
  const middle = about_of(held);
  const degrees = (Math.round((Math.atan2(p[0] - middle[0], p[1] - middle[1]) * 180) / Math.PI) + 360) % 360;
  const kin = Array.from(handles.data.kind, (kind, i) => i).filter((i) => ["size", "path"].includes(handles.data.kind[i]));
  const points = kin.map((i) =>
    about_turn([handles.data.x[i], handles.data.y[i]], middle, degrees - handles.data.turn[held]),
  );
  return [[[middle, p], ...(points.length > 1 ? closing(points) : [])], [], "turned to " + degrees + "°"];
};
// What is sized: its rectangle as it would be, between the corner in the hand and the one that stays.
const sized = (p, held) => {
  const still = about_of(held), turn = handles.data.turn[held];
  const flat = about_turn(p, still, -turn);
  const corners = [still, [flat[0], still[1]], flat, [still[0], flat[1]]].map((q) => about_turn(q, still, turn));
  const sides = closing(corners), [across, along] = [Math.abs(flat[0] - still[0]), Math.abs(flat[1] - still[1])];
  const texts = sides.slice(0, 2).map(([a, b]) => [[(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], words(far(a, b))]);
  return [sides, texts, words(across) + " x " + words(along) + ", " + ground(across * along)];
};
const tangled = (own) => {
  const { at, points } = own, count = points.length;
  for (const n of [at, (at + count - 1) % count])
    for (let m = 0; m < count; m++)
      if (crosses(points[n], points[(n + 1) % count], points[m], points[(m + 1) % count])) return true;
  return false;
};
const trouble = (p, held, own) => {
  const id = String(handles.data.id[held]), sort = id.split(":")[0], kind = handles.data.kind[held];
  const plant = kind === "plant" && /^\d+$/.test(id);
  const climbs = plant && beside.data.climbs[beside.data.names.findIndex((name) => name.startsWith(id + " "))];
  const on_path = ["held", "free"].includes(sort);
  const placed = plant || on_path || ["seat", "thing", "level", "eye", "spot"].includes(sort);
  const of_ground = ["corner", "between", "ground_area"].includes(sort) || /^size:\d:(area|bed|level):/.test(id);
  for (let i = 0; i < about.data.what.length; i++) {
    const side = about.data.refuses[i], what = about.data.what[i];
    if (side === "outside" && !start.own.has(i) && (placed || of_ground) && !within(p, i) && nearest(p, i)[1] > (of_ground ? LOOSE : 0.02))
      return "off the plot";
    if (on_path && about.data.plants[i]) continue; // its own path lies there
    if (side === "inside" && placed && within(p, i) && (!about.data.plants[i] || (plant && !climbs)))
      return (about.data.plants[i] ? "on " : "inside ") + what;
  }
  return own?.closed && tangled(own) ? "the sides cross" : "";
};
// The plants that are dragged along with one: those of its group, where they stand.
const together = (held) => {
  const id = String(handles.data.id[held]);
  if (handles.data.kind[held] !== "plant" || !/^\d+$/.test(id)) return [];
  const named = beside.data.names.findIndex((name) => name.startsWith(id + " "));
  const group = named < 0 ? "" : beside.data.group[named];
  if (!group) return [];
  const kin = beside.data.names.map((_, i) => i).filter((i) => i !== named && beside.data.group[i] === group);
  return kin.map((i) => ({ at: [beside.data.x[i], beside.data.y[i]] }));
};
// From a stone to the one before and the one after it, middle to middle: the paces.
const stones = (p, held) => {
  const [sort, number] = String(handles.data.id[held]).split(":");
  if (sort !== "stone") return [[], []];
  const ids = Array.from(handles.data.id, String);
  const beside_it = [Number(number) - 1, Number(number) + 1].map((n) => ids.indexOf("stone:" + n)).filter((i) => i >= 0);
  const ends = beside_it.map((i) => [handles.data.x[i], handles.data.y[i]]);
  return [ends.map((q) => [p, q]), ends.map((q) => [[(p[0] + q[0]) / 2, (p[1] + q[1]) / 2], words(far(p, q)) + " a pace"])];
};
const measure = (held) => {
  const p = [handles.data.x[held], handles.data.y[held]], own = shape(held), found = {};
  const of_path = /^(held|free|stone):/.test(handles.data.id[held]); // not measured to the path that it is of
  const group = together(held);
  const turns = handles.data.kind[held] === "turn"; // how far its own handle is from anything says nothing
  about.data.what.forEach((what, i) => {
    if (turns || (of_path && about.data.plants[i]) || start.own.has(i)) return;
    const [q, away] = nearest(p, i), side = about.data.refuses[i];
    const sort = side === "outside" ? "edge" : side && !about.data.plants[i] ? "wall" : "line";
    if (!found[sort] || away < found[sort].away) found[sort] = { q, away, what };
  });
  beside.data.names.forEach((what, i) => {
    const q = [beside.data.x[i], beside.data.y[i]];
    if (turns || far(q, start.at) < OWN || group.some((one) => one.at[0] === q[0] && one.at[1] === q[1])) return;
    const away = far(p, q);
    if (!found.neighbour || away < found.neighbour.away) found.neighbour = { q, away, what };
  });
  const lines = Object.values(found).map((one) => [p, one.q]);
  const [sides, lengths, area] = turns ? turned(p, held)
    : handles.data.kind[held] === "size" ? sized(p, held)
    : own ? sizes(own) : [[], [], ""];
  const [paces, apart] = stones(p, held);
  const by = [p[0] - start.at[0], p[1] - start.at[1]];
  const others = group.map((one) => ({ from: one.at, to: [one.at[0] + by[0], one.at[1] + by[1]] }));
  const wrong = others.map((one) => [one.to, trouble(one.to, held, null)]).filter(([, why]) => why);
  const bad = trouble(p, held, own) || (wrong.length ? "one of the group " + wrong[0][1] : "");
  const told = Object.values(found).map((one) => [words(one.away) + " to " + one.what, false]);
  if (!turns) told.push(["moved " + words(Math.hypot(...by)) + (group.length ? ", group of " + (group.length + 1) : ""), false]);
  if (area) told.unshift([area, false]);
  if (bad) told.unshift(["not here: " + bad, true]);
  const stack = told.map(([text, wrong], row) => [p, text, row + 2, wrong]);
  const moves = others.map((one) => [one.from, one.to]);
  show([...lines, ...sides, ...paces, ...moves], [...stack, ...lengths, ...apart], bad ? [p, ...wrong.map(([at]) => at)] : []);
};
const start = (window.gkDragged ??= new Map()).get(plot.id) ?? { x: [], y: [], own: new Set(), at: [0, 0], held: -1 };
window.gkDragged.set(plot.id, start);
if (cb_obj.event_name === "panend") {
  start.held = -1;
  start.x = [];
  show([], [], []);
} else if (cb_obj.event_name === "panstart") {
  start.held = -1;
  start.x = Array.from(handles.data.x);
  start.y = Array.from(handles.data.y);
} else if (start.x.length === handles.data.x.length) {
  const moved = (i) => handles.data.x[i] !== start.x[i] || handles.data.y[i] !== start.y[i];
  if (start.held < 0) {
    start.held = start.x.findIndex((_, i) => moved(i));
    if (start.held >= 0) {
      start.at = [start.x[start.held], start.y[start.held]];
      start.own = new Set(about.data.what.map((_, i) => i).filter((i) => nearest(start.at, i)[1] < OWN));
    }
  }
  if (start.held >= 0) measure(start.held);
}
