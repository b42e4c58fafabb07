// Fits the live drawings to the page, and asks them for their first state.
(function () {
  "use strict";
  const named = (name) => {
    for (const doc of Bokeh.documents) {
      const found = doc.get_model_by_name(name);
      if (found) return found;
    }
    return null;
  };
  const fitted = {};
  function fit() {
    for (const [name, place] of [["plan", "live-plan"], ["sun", "live-sun"]]) {
      const plot = named(name), held = document.getElementById(place);
      if (!plot || !held) continue;
      if (!fitted[name]) {
        const words = named(name + "_words");
        fitted[name] = {wide: plot.frame_width, high: plot.frame_height, sizes: words ? Array.from(words.data.text_font_size) : [], words};
      }
      const first = fitted[name], room = Math.max(240, Math.min(first.wide, held.clientWidth - 4));
      if (Math.abs(plot.frame_width - room) < 2) continue;
      const share = room / first.wide;
      plot.frame_width = Math.round(room);
      plot.frame_height = Math.round(first.high * share);
      if (first.words) {
        const smaller = first.sizes.map((size) => `${(parseFloat(size) * Math.max(share, 0.62)).toFixed(1)}px`);
        first.words.data = Object.assign({}, first.words.data, {text_font_size: smaller});
      }
    }
  }
  // The sliders stand in shadow trees and have no name of their own: give each handle one for screen readers.
  function handles(node) {
    const found = [...node.querySelectorAll(".noUi-handle")];
    for (const inner of node.querySelectorAll("*")) if (inner.shadowRoot) found.push(...handles(inner.shadowRoot));
    return found;
  }
  function name(tries) {
    let missing = false;
    for (const place of document.querySelectorAll("[data-slider]")) {
      const found = handles(place);
      missing = missing || !found.length;
      for (const handle of found) handle.setAttribute("aria-label", place.dataset.slider);
    }
    if (missing && tries < 100) setTimeout(() => name(tries + 1), 100);
  }
  function begin(tries) {
    const month = window.Bokeh && Bokeh.documents.length ? named("month") : null;
    if (!month) {
      if (tries < 400) setTimeout(() => begin(tries + 1), 25);
      return;
    }
    month.properties.value.change.emit();
    fit();
    name(0);
    addEventListener("resize", fit);
    document.documentElement.dataset.ready = "yes";
  }
  begin(0);
})();
// Plays the films: a button, a slider of the frames, the words of each.
(function () {
  "use strict";
  for (const film of document.querySelectorAll(".film")) {
    const frames = JSON.parse(film.querySelector("script").textContent);
    const [image, button, bar, words] = ["img", "button", "input", "output"].map((name) => film.querySelector(name));
    let timer = null;
    const show = () => {
      const [address, said] = frames[Number(bar.value)];
      image.src = address;
      words.textContent = said;
    };
    const stop = () => {
      clearInterval(timer);
      timer = null;
      button.textContent = "Play";
    };
    bar.max = frames.length - 1;
    bar.addEventListener("input", () => { stop(); show(); });
    button.addEventListener("click", () => {
      if (timer) return stop();
      if (Number(bar.value) >= frames.length - 1) bar.value = 0;
      button.textContent = "Pause";
      timer = setInterval(() => {
        if (Number(bar.value) >= frames.length - 1) return stop();
        bar.value = Number(bar.value) + 1;
        show();
      }, 400);
    });
    show();
  }
})();
