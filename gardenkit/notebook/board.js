// Shows a Bokeh plan in a notebook and keeps it as the kernel has it. A view asks the kernel for the plan as it stands,
// and for BokehJS where the page has none yet; then it takes every change in, and tells clicks and what was dragged.
const ARRAYS = { f4: Float32Array, f8: Float64Array };
const LONG = 20_000; // ms until BokehJS is asked for again, of another plan on the page

const bytes = (view) => view.buffer.slice(view.byteOffset, view.byteOffset + view.byteLength);
const column = (told, buffers) => {
  if (Array.isArray(told)) return told;
  let cells = new ARRAYS[told.kind](bytes(buffers[told.at]));
  told.lengths.forEach((lengths, level) => {
    let from = 0;
    cells = lengths.map((long) => cells[level === 0 ? "subarray" : "slice"](from, (from += long)));
  });
  return cells;
};
// New columns, or some of their rows; all of a source are set at once, and only who draws them is told: the plan itself
// would look for models in every cell.
const take = (plan, event, buffers) => {
  const source = plan.get_model_by_id(event.id), data = { ...(event.whole ? {} : source.data) };
  for (const [name, told] of Object.entries(event.columns)) {
    const cells = column(told.cells, buffers);
    if (!told.rows) data[name] = cells;
    else {
      data[name] = data[name].slice();
      told.rows.forEach((row, n) => (data[name][row] = cells[n]));
    }
  }
  source.setv({ data }, { silent: true });
  source.properties.data.change.emit();
  source.change.emit();
};
// What lies over the ground is painted apart from it, and the frame does not cut that off of itself. Set before anything
// is painted: what once stood beside the frame is not wiped off to its last pixel.
const clip = () => {
  const { GlyphRendererView } = window.Bokeh.require("models/renderers/glyph_renderer");
  const cut = { configurable: true, get() { return this.model.level === "overlay" } };
  Object.defineProperty(GlyphRendererView.prototype, "needs_clip", cut);
};
const library = (model) => {
  if (window.Bokeh) return Promise.resolve();
  if (window.gkBokeh && performance.now() - window.gkBokeh.asked < LONG) return window.gkBokeh.there;
  const there = new Promise((done) => {
    const heard = (told, buffers) => {
      if (told.kind !== "library") return;
      model.off("msg:custom", heard);
      if (!window.Bokeh) {
        const script = document.createElement("script");
        script.textContent = new TextDecoder().decode(buffers[0]);
        document.head.append(script);
      }
      done();
    };
    model.on("msg:custom", heard);
    model.send({ kind: "library" });
  });
  window.gkBokeh = { asked: performance.now(), there };
  return there;
};

function render({ model, el }) {
  const view = crypto.randomUUID?.() ?? String(Math.random()), home = document.createElement("div");
  home.className = "gk-board";
  el.append(home);
  let plan = null, shown = null, waiting = null, gone = false;
  const tell = (event) => {
    if (!event.sync) return;
    if (event.kind === "MessageSent") {
      if (event.msg_type !== "bokeh_event") return;
      const { Serializer } = window.Bokeh.require("core/serialization");
      const references = new Map(Array.from(plan._all_models.values(), (one) => [one, one.ref()]));
      model.send({ kind: "event", event: new Serializer({ references }).encode(event.msg_data) });
    } else if (event.kind === "ModelChanged" && event.attr === "data" && model.get("editable").includes(event.model.id)) {
      const data = Object.entries(event.model.data).map(([name, cells]) => [name, Array.from(cells)]);
      model.send({ kind: "edited", id: event.model.id, data: Object.fromEntries(data) });
    }
  };
  const clear = () => {
    if (plan === null) return;
    plan.clear({ sync: false });
    const at = window.Bokeh.documents.indexOf(plan);
    if (at >= 0) window.Bokeh.documents.splice(at, 1);
    plan = null;
  };
  const show = async (told) => {
    clear();
    clip();
    plan = window.Bokeh.require("document").Document.from_json(JSON.parse(told));
    plan.on_change(tell);
    waiting = []; // what changes while the plan is being built comes after it
    await window.Bokeh.require("embed/standalone").add_document_standalone(plan, home, [home]);
    waiting.forEach((changes) => change(...changes));
    waiting = null;
  };
  const change = (events, buffers) => {
    for (const event of events) {
      if (event.columns) take(plan, event, buffers);
      else plan.apply_json_patch({ events: [event] }, new Map());
    }
  };
  const heard = (told, buffers) => {
    if (told.kind === "whole" && told.view === view && !gone) shown = show(told.plan);
    if (told.kind !== "changed" || plan === null) return;
    if (waiting) waiting.push([told.events, buffers]);
    else change(told.events, buffers);
  };
  model.on("msg:custom", heard);
  library(model).then(() => !gone && model.send({ kind: "show", view }));
  return () => {
    gone = true;
    model.off("msg:custom", heard);
    Promise.resolve(shown).then(clear);
  };
}
export default { render };
