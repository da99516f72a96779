/* Pointing at the plan: a sheet of glass over the picture, and a list for whoever does not point. Plain React.
   Both speak through `Taps`: they put what is meant on an element of theirs and click it. */
(function () {
  "use strict";
  const { createElement: h, useEffect, useRef, useState } = window.React;
  const FAR_PX = 8;

  function useVoice() {
    const voice = useRef(null);
    const say = (what) => { voice.current.setAttribute("data-tap", what); voice.current.click(); voice.current.removeAttribute("data-tap"); };
    return [h("span", { ref: voice, className: "voice", "aria-hidden": true }), say];
  }

  /* From the screen to metres on the plan: through the picture's own units into the nearest storey. */
  function placeOf(event, glass, width, frames) {
    const box = glass.getBoundingClientRect(), share = width / box.width;
    const x = (event.clientX - box.left) * share, y = (event.clientY - box.top) * share;
    const away = ({ x0, y0, x1, y1 }) => Math.hypot(Math.max(x0 - x, 0, x - x1), Math.max(y0 - y, 0, y - y1));
    const frame = frames.reduce((best, one) => (away(one) < away(best) ? one : best));
    return { x, y, level: frame.level, at: [(x - frame.x0) / frame.scale + frame.left, frame.top - (y - frame.y0) / frame.scale] };
  }

  const told = (numbers) => numbers.map((value) => value.toFixed(2)).join(",");
  const within = (piece, x, y) => {
    const xs = piece.points.map((point) => point[0]), ys = piece.points.map((point) => point[1]);
    return x >= Math.min(...xs) - 10 && x <= Math.max(...xs) + 10 && y >= Math.min(...ys) - 10 && y <= Math.max(...ys) + 10;
  };

  function Glass({ width, height, frames, pieces, mark, tool, label, chosen }) {
    const glass = useRef(null), held = useRef(null);
    const [shift, setShift] = useState(null);
    const [voice, say] = useVoice();
    useEffect(() => { held.current = null; setShift(null); }, [pieces, tool]);
    const down = (event) => {
      if (tool !== "seat" || event.button > 0) return;
      const from = placeOf(event, glass.current, width, frames);
      const piece = pieces.find((one) => within(one, from.x, from.y));
      if (!piece) return;
      held.current = { from, piece };
      glass.current.setPointerCapture(event.pointerId);
    };
    const move = (event) => {
      if (!held.current) return;
      const to = placeOf(event, glass.current, width, frames);
      setShift([to.x - held.current.from.x, to.y - held.current.from.y]);
    };
    const up = (event) => {
      if (!held.current) return;
      const { from, piece } = held.current, to = placeOf(event, glass.current, width, frames);
      held.current = null;
      if (Math.hypot(to.x - from.x, to.y - from.y) < FAR_PX) { setShift(null); return; }
      glass.current.moved = true;
      /* The piece keeps its distance from the finger: what moves is its pillow or seat. */
      const at = [piece.at[0] + to.at[0] - from.at[0], piece.at[1] + to.at[1] - from.at[1]];
      say(`put:${piece.piece},${told(at)}`);
    };
    const click = (event) => {
      if (event.target.closest("[data-tap]")) return;
      if (glass.current.moved) { glass.current.moved = false; return; }
      const at = placeOf(event, glass.current, width, frames);
      say(`at:${at.level},${told(at.at)}`);
    };
    const drop = () => { held.current = null; setShift(null); };
    const outline = (piece) => {
      const own = shift && held.current && held.current.piece === piece;
      return h("polygon", {
        key: piece.piece, className: `glass-piece${piece.piece === chosen ? " chosen" : ""}`,
        points: piece.points.map((point) => point.join(",")).join(" "),
        transform: own ? `translate(${shift[0]} ${shift[1]})` : undefined,
      });
    };
    return h("div", { className: `glass ${tool}`, "data-label": label },
      voice,
      h("svg", {
        ref: glass, viewBox: `0 0 ${width} ${height}`, "aria-hidden": true, onClick: click,
        onPointerDown: down, onPointerMove: move, onPointerUp: up, onPointerCancel: drop,
      },
      h("rect", { width, height, fill: "transparent" }),
      pieces.map(outline),
      mark ? h("path", { className: "glass-mark", d: `M${mark[0] - 9} ${mark[1] - 9}l18 18m0 -18l-18 18` }) : null));
  }

  /* An answer may put a new list in place of the old one: whoever stood on it with the keyboard stays on it. */
  let heldList = null;
  document.addEventListener("pointerdown", (event) => { if (!event.target.closest(".chooser")) heldList = null; });

  function Chooser({ label, options, value }) {
    const [voice, say] = useVoice(), list = useRef(null);
    useEffect(() => {
      if (heldList === label && document.activeElement === document.body) list.current.focus({ preventScroll: true });
    });
    const hold = { onFocus: () => { heldList = label; }, onBlur: (event) => { if (event.relatedTarget) heldList = null; } };
    return h("label", { className: "chooser" },
      h("span", { className: "chooser-label" }, label),
      h("select", { ref: list, ...hold, value: value || "", onChange: (event) => { if (event.target.value) say(event.target.value); } },
        options.map((group, k) => (group.options
          ? h("optgroup", { key: k, label: group.label }, group.options.map((one) => h("option", { key: one.value, value: one.value }, one.label)))
          : h("option", { key: k, value: group.value }, group.label)))),
      voice);
  }

  Object.assign(window.hplayouts_page, { Glass, Chooser });
})();
