// Keys that press the buttons of a page while the pointer is on its plan: those of class gk-key-NAME that are seen.
// What has the focus and takes keys itself (a field, a list, a slider, a button) keeps them; Escape means nothing to a
// field, and lets go of what is drawn or chosen from there too.
if (cb_obj.event_name === "mouseenter") {
  let node = Bokeh.index.find_one(cb_obj.origin)?.el;
  while (node && !node.classList?.contains("gk-page")) node = node.parentNode ?? node.host;
  window.gkUnderPointer = node;
  if (!window.gkKeys) {
    window.gkKeys = (event) => {
      const keeps = "input, textarea, select, button, [role=slider], [contenteditable=true]";
      const from = event.composedPath()[0], typed = event.key === "Escape" && from?.matches?.("input, textarea");
      if ((!typed && from?.matches?.(keeps)) || !window.gkUnderPointer || event.ctrlKey || event.metaKey || event.altKey) return;
      const named = Array.from(window.gkUnderPointer.querySelectorAll(".gk-key-" + CSS.escape(event.key)));
      const button = named.find((one) => one.offsetParent !== null && !one.disabled);
      if (!button) return;
      event.preventDefault();
      event.stopPropagation();
      button.click();
    };
    window.addEventListener("keydown", window.gkKeys, true);
  }
} else {
  window.gkUnderPointer = null;
}
