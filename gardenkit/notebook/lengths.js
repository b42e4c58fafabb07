// Lengths as they are said while the pointer moves, in the garden's units.
const words = (metres) => {
  if (units !== "imperial") return metres.toFixed(2) + " m";
  const inches = Math.round(metres / 0.0254);
  return Math.floor(inches / 12) + "' " + (inches % 12) + '"';
};
const far = (a, b) => Math.hypot(b[0] - a[0], b[1] - a[1]);
