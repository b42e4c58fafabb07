// Tells how wide the plan is in pixels and which ground it shows, a quarter of a second after the last change.
clearTimeout(plot.gkTelling);
plot.gkTelling = setTimeout(() => {
  const now = [plot.inner_width, plot.x_range.start, plot.x_range.end];
  if (!(now[0] > 0) || (plot.gkTold && now.every((value, i) => value === plot.gkTold[i]))) return;
  plot.gkTold = now;
  told.data = {wide: [now[0]], low_x: [now[1]], high_x: [now[2]]};
}, 250);
