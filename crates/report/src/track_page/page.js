(() => {
  "use strict";
  // Draws the map larger, and links plot, map and slider. Without it the page still reads whole.
  const part = (id) => document.getElementById(id);
  const map = part("map");
  const plot = part("plot");
  if (!map) return;

  // ---- the part of the map that is seen: a point p of the drawing is shown at times * p + (x, y)
  const moving = part("moving");
  const width = Number(map.dataset.width);
  const height = Number(map.dataset.height);
  const MOST = 16;
  const NEAR = 4;
  const seen = { times: 1, x: 0, y: 0 };
  const numbers = [...map.querySelectorAll(".numbers text")];
  const levels = [...map.querySelectorAll(".level")];
  const hatches = [...map.querySelectorAll("pattern")];
  const within = (value, least, most) => Math.min(Math.max(value, least), most);

  const stretch = (bar, times) => {
    const half = (bar.dataset.length * times) / 2;
    const [filled, open] = bar.querySelectorAll("rect");
    const left = Number(filled.getAttribute("x"));
    filled.setAttribute("width", half);
    open.setAttribute("width", half);
    open.setAttribute("x", left + half);
    bar.querySelector("text").setAttribute("x", left + 2 * half + 10);
  };
  const see = (times, x, y) => {
    seen.times = within(times, 1, MOST);
    seen.x = within(x, width * (1 - seen.times), 0);
    seen.y = within(y, height * (1 - seen.times), 0);
    moving.setAttribute("transform", `translate(${seen.x} ${seen.y}) scale(${seen.times})`);
    map.style.setProperty("--times", seen.times);
    map.classList.toggle("enlarged", seen.times > 1);
    map.classList.toggle("is-near", seen.times >= NEAR);
    for (const hatch of hatches) hatch.setAttribute("patternTransform", `scale(${1 / seen.times})`);
    for (const text of numbers) {
      const { x: across, y: down } = text.dataset;
      const [at, most] = down === undefined ? [seen.times * across + seen.x, width] : [seen.times * down + seen.y, height];
      if (down === undefined) text.setAttribute("x", at);
      else text.setAttribute("y", at - 5);
      text.classList.toggle("off", at < 40 || at > most - 30);
    }
    const level = within(Math.floor(Math.log2(seen.times)), 0, levels.length - 1);
    levels.forEach((group, number) => group.classList.toggle("off", number !== level));
    for (const bar of levels[level].querySelectorAll(".bar")) stretch(bar, seen.times);
    part("smaller").disabled = part("whole").disabled = seen.times <= 1;
    part("larger").disabled = seen.times >= MOST;
  };
  // a point of the drawing stays where it is while all else grows
  const enlarge = (by, at = { x: width / 2, y: height / 2 }) => {
    const times = within(seen.times * by, 1, MOST);
    const share = times / seen.times;
    see(times, at.x - (at.x - seen.x) * share, at.y - (at.y - seen.y) * share);
  };
  const move = (x, y) => see(seen.times, seen.x + x, seen.y + y);
  const whole = () => see(1, 0, 0);

  // screen to drawing
  const placed = (drawing, event) =>
    new DOMPoint(event.clientX, event.clientY).matrixTransform(drawing.getScreenCTM().inverse());
  const STEP = 1.5;
  part("larger").addEventListener("click", () => enlarge(STEP));
  part("smaller").addEventListener("click", () => enlarge(1 / STEP));
  part("whole").addEventListener("click", whole);
  map.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const far = width / 8;
    const keys = {
      "+": () => enlarge(STEP),
      "=": () => enlarge(STEP),
      "-": () => enlarge(1 / STEP),
      0: whole,
    };
    // on the whole map the arrows still scroll the page
    if (seen.times > 1) {
      keys.ArrowLeft = () => move(far, 0);
      keys.ArrowRight = () => move(-far, 0);
      keys.ArrowUp = () => move(0, far);
      keys.ArrowDown = () => move(0, -far);
    }
    if (!(event.key in keys)) return;
    event.preventDefault();
    keys[event.key]();
  });
  map.addEventListener("wheel", (event) => {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    enlarge(Math.exp(-event.deltaY / 300), placed(map, event));
  }, { passive: false });
  map.addEventListener("dblclick", (event) => enlarge(2, placed(map, event)));

  // one finger or the mouse drags what is drawn larger; two fingers enlarge and drag
  const held = new Map();
  const middle = () => {
    const points = [...held.values()];
    const mean = (of) => points.reduce((sum, point) => sum + of(point), 0) / points.length;
    const at = { x: mean((point) => point.x), y: mean((point) => point.y) };
    const spread = mean((point) => Math.hypot(point.x - at.x, point.y - at.y));
    return { at, spread };
  };
  const letGo = (event) => held.delete(event.pointerId);
  map.addEventListener("pointerdown", (event) => {
    if (event.target.closest("a") || (event.pointerType === "mouse" && event.button !== 0)) return;
    held.set(event.pointerId, placed(map, event));
  });
  map.addEventListener("pointermove", (event) => {
    if (!held.has(event.pointerId)) return;
    if (event.pointerType === "mouse" && event.buttons === 0) return letGo(event);
    const before = middle();
    held.set(event.pointerId, placed(map, event));
    const now = middle();
    if (held.size > 1 && before.spread > 0) enlarge(now.spread / before.spread, before.at);
    if (seen.times > 1) move(now.at.x - before.at.x, now.at.y - before.at.y);
  });
  for (const kind of ["pointerup", "pointercancel", "pointerleave"]) map.addEventListener(kind, letGo);
  const noScroll = (event) => {
    if (event.touches.length > 1) event.preventDefault();
  };
  map.addEventListener("touchstart", noScroll, { passive: false });
  map.addEventListener("touchmove", noScroll, { passive: false });

  // paper shows the whole map, and every visit that stands out; what else is folded on the screen stays so
  let folded = [];
  addEventListener("beforeprint", () => {
    whole();
    folded = [...document.querySelectorAll(".loud > details:not([open])")];
    for (const part of folded) part.open = true;
  });
  addEventListener("afterprint", () => {
    for (const part of folded) part.open = false;
  });

  map.setAttribute("tabindex", "0");
  map.setAttribute("aria-describedby", "how");
  part("zoom").hidden = false;
  see(1, 0, 0);

  // ---- plot, map and slider: whichever is moved, the other two follow
  if (!plot) return;
  const points = JSON.parse(plot.dataset.points);
  if (points.length === 0) return;
  const step = part("step");
  const said = part("said");
  const mapCursor = part("map-cursor");
  const plotCursor = part("plot-cursor");
  const hair = part("plot-hair");

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
  const follow = (drawing, of, farness) => {
    const moved = (event) => {
      // a drag moves the map and not the mark
      if (drawing === map && seen.times > 1 && event.type === "pointermove" && held.size > 0) return;
      if (held.size > 1) return;
      const at = placed(of, event);
      show(nearest((point) => farness(point, at)));
    };
    drawing.addEventListener("pointermove", moved);
    drawing.addEventListener("pointerdown", moved);
  };
  follow(plot, plot, (point, at) => (point[2] === null ? Infinity : Math.abs(point[2] - at.x)));
  follow(map, moving, (point, at) => Math.hypot(point[0] - at.x, point[1] - at.y));
  step.addEventListener("input", () => show(Number(step.value)));
  part("walk").hidden = false;
  show(0);
})();
