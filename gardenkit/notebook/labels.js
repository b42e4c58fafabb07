// Ties the words above a field, list or slider to it, so that a screen reader says them; they change as a slider moves.
// What is wider than its place can be reached and scrolled by keys.
if (!window.gkLabels) {
  const tie = () => {
    window.gkLabels.asked = false;
    for (const box of document.querySelectorAll(".gk-labelled")) {
      const words = box.querySelector(".gk-label")?.textContent?.trim();
      if (!words) continue;
      for (const field of box.querySelectorAll("input, textarea, select, [role=slider], .noUi-handle"))
        if (field.getAttribute("aria-label") !== words) field.setAttribute("aria-label", words);
    }
    for (const wide of document.querySelectorAll(".gk-desk-step .widget-html, .gk-seen, .gk-scroll")) {
      if (wide.scrollWidth <= wide.clientWidth && wide.scrollHeight <= wide.clientHeight) continue;
      wide.tabIndex = 0;
      wide.setAttribute("role", "region");
      wide.setAttribute("aria-label", wide.querySelector("caption")?.textContent || "scrolled by the arrow keys");
    }
  };
  window.gkLabels = new MutationObserver(() => {
    if (window.gkLabels.asked) return;
    window.gkLabels.asked = true;
    setTimeout(tie, 200);
  });
  window.gkLabels.observe(document.body, {childList: true, subtree: true});
  tie();
}
