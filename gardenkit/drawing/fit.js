// Shows the wanted ground (the tags: low x, low y, high x, high y) whole and undistorted in whatever frame the window
// gives the plan. What the designer zoomed to stays when only the size of the frame changes. The tools over it, folded
// while there was no room, are laid out anew.
const wide = plot.inner_width, high = plot.inner_height, x = plot.x_range, y = plot.y_range;
if (wide > 0 && high > 0) {
  const before = plot.gkFitted;
  const zoomed = before && before.wanted === plot.tags &&
    (Math.abs(x.start - before.x[0]) > 1e-9 || Math.abs(x.end - before.x[1]) > 1e-9);
  const [lowX, lowY, highX, highY] = zoomed ? [x.start, y.start, x.end, y.end] : plot.tags;
  const per = zoomed ? (highX - lowX) / before.wide : Math.max((highX - lowX) / wide, (highY - lowY) / high);
  const across = [(lowX + highX - per * wide) / 2, (lowX + highX + per * wide) / 2];
  const up = [(lowY + highY - per * high) / 2, (lowY + highY + per * high) / 2];
  const whole = zoomed ? {} : {reset_start: across[0], reset_end: across[1]};
  x.setv({start: across[0], end: across[1], ...whole});
  y.setv({start: up[0], end: up[1], ...(zoomed ? {} : {reset_start: up[0], reset_end: up[1]})});
  if (before?.wide !== wide) requestAnimationFrame(() => Bokeh.index.find_one(plot.toolbar)?.rerender());
  plot.gkFitted = {wanted: plot.tags, wide, x: zoomed ? before.x : across};
}
