(() => {
  "use strict";
  // Links plot, map and slider: whichever is moved, the other two follow. Without it the page still reads whole.
  const map = document.getElementById("map");
  const plot = document.getElementById("plot");
  if (!map || !plot) return;
  const points = JSON.parse(plot.dataset.points);
  if (points.length === 0) return;
  const step = document.getElementById("step");
  const said = document.getElementById("said");
  const mapCursor = document.getElementById("map-cursor");
  const plotCursor = document.getElementById("plot-cursor");
  const hair = document.getElementById("plot-hair");

  const put = (mark, x, y) => {
    mark.classList.toggle("on", x !== null);
    if (x === null) return;
    mark.setAttribute("cx", x);
    mark.setAttribute("cy", y);
  };
  const show = (number) => {
    const [mapX, mapY, plotX, plotY, words] = points[number];
    put(mapCursor, mapX, mapY);
    put(plotCursor, plotX, plotY);
    hair.classList.toggle("on", plotX !== null);
    if (plotX !== null) {
      hair.setAttribute("x1", plotX);
      hair.setAttribute("x2", plotX);
    }
    step.value = number;
    step.setAttribute("aria-valuetext", words);
    said.textContent = words;
  };
  const nearest = (farness) => {
    let best = 0;
    let least = Infinity;
    points.forEach((point, number) => {
      const far = farness(point);
      if (far < least) {
        least = far;
        best = number;
      }
    });
    return best;
  };
  // screen to drawing
  const within = (drawing, event) =>
    new DOMPoint(event.clientX, event.clientY).matrixTransform(drawing.getScreenCTM().inverse());

  const follow = (drawing, farness) => {
    const move = (event) => {
      const at = within(drawing, event);
      show(nearest((point) => farness(point, at)));
    };
    drawing.addEventListener("pointermove", move);
    drawing.addEventListener("pointerdown", move);
  };
  follow(plot, (point, at) => (point[2] === null ? Infinity : Math.abs(point[2] - at.x)));
  follow(map, (point, at) => Math.hypot(point[0] - at.x, point[1] - at.y));
  step.addEventListener("input", () => show(Number(step.value)));
  document.getElementById("walk").hidden = false;
  show(0);
})();
