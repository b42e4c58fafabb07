// Pictures come onto a page by a drop anywhere on it, by paste while the pointer is over it, or from a file dialog.
// They are sent in parts, since the line to the kernel takes no message of more than some megabytes.
const PART = 2 * 1024 * 1024;
const KEEPS = "input, textarea, select, [contenteditable=true]"; // these keep what is pasted into them

function render({ model, el }) {
  const zone = document.createElement("label");
  zone.className = "gk-pin-up";
  zone.tabIndex = 0;
  const words = document.createElement("span");
  words.textContent = model.get("words");
  const input = document.createElement("input");
  Object.assign(input, { type: "file", multiple: true, accept: model.get("accept"), hidden: true });
  zone.append(words, input);
  el.append(zone);
  const page = () => el.closest(".gk-page") ?? el;
  const over = (event) => event.composedPath().includes(page());

  const send = async (files) => {
    const taken = Array.from(files);
    for (const [at, file] of taken.entries()) {
      words.textContent = `taking in ${at + 1} of ${taken.length} ...`;
      const bytes = await file.arrayBuffer();
      const parts = Math.max(1, Math.ceil(bytes.byteLength / PART));
      for (let part = 0; part < parts; part += 1) {
        const last = part === parts - 1;
        const told = { kind: "part", name: file.name || "pasted.png", last, end: last && at === taken.length - 1 };
        model.send(told, undefined, [bytes.slice(part * PART, (part + 1) * PART)]);
      }
    }
    words.textContent = model.get("words");
  };
  const carries = (event) => Array.from(event.dataTransfer?.types ?? []).includes("Files");
  const dragged = (event) => {
    if (!carries(event) || !over(event)) return zone.classList.remove("gk-over");
    event.preventDefault();
    event.stopPropagation();
    zone.classList.add("gk-over");
  };
  const dropped = (event) => {
    zone.classList.remove("gk-over");
    if (!carries(event) || !over(event)) return;
    event.preventDefault();
    event.stopPropagation();
    send(event.dataTransfer.files);
  };
  const pastes = (event) => !event.target?.matches?.(KEEPS) && (page().matches(":hover") || over(event));
  const keyed = (event) => {
    // The lab would paste a cell; the browser's own paste is to follow instead.
    if ((event.ctrlKey || event.metaKey) && event.key === "v" && pastes(event)) event.stopImmediatePropagation();
  };
  const pasted = (event) => {
    const files = event.clipboardData?.files ?? [];
    if (!files.length || !pastes(event)) return;
    event.preventDefault();
    event.stopPropagation();
    send(files);
  };
  const clicked = (event) => {
    const tile = event.composedPath().find((node) => node.dataset?.picture !== undefined);
    if (tile && page().contains(tile)) model.send({ kind: "chosen", name: tile.dataset.picture });
  };
  input.addEventListener("change", () => send(input.files).then(() => (input.value = "")));
  const heard = [
    [document, "dragover", dragged], [document, "dragleave", dragged], [document, "drop", dropped],
    [document, "paste", pasted], [document, "click", clicked], [window, "keydown", keyed],
  ];
  for (const [on, event, what] of heard) on.addEventListener(event, what, true);
  return () => heard.forEach(([on, event, what]) => on.removeEventListener(event, what, true));
}

export default { render };
