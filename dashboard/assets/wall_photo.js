/* The browser's half of `WallPhoto`. The picture is drawn on a canvas of this page and goes nowhere: no address of it is
   made, nothing is stored, nothing is sent. It is kept while the page is open, so that it survives closing the panel. */
(function () {
  "use strict";
  const { createElement: h, useEffect, useLayoutEffect, useRef, useState } = window.React;
  const LONGEST_PX = 1600;
  let kept = null;

  const clamp = (value, least, most) => Math.min(most, Math.max(least, value));
  const distance = (a, b) => Math.hypot(a.x - b.x, a.y - b.y);
  const filled = (text, parts) => text.replace(/\{(\w+)\}/g, (_all, key) => parts[key]);

  /* Where the unit is at first: beside the marks, a wall unit above the upper one, others on the lower one. */
  function firstPlace(marks, size) {
    const [top, foot] = marks, wide = size.wide, left = (top.x + foot.x) / 2;
    const x = left > 0.5 * size.w ? left - 0.08 * size.w - wide : left + 0.08 * size.w;
    return { x: clamp(x, 0, Math.max(0, size.w - wide)), y: clamp(size.low ? Math.max(top.y, foot.y) - size.high : Math.min(top.y, foot.y) - 1.2 * size.high, 0, size.h - size.high) };
  }

  function usePhoto(words) {
    const [photo, setPhoto] = useState(kept ? kept.photo : null), [fault, setFault] = useState("");
    const open = async (event) => {
      const file = event.target.files && event.target.files[0];
      event.target.value = "";
      if (!file) return;
      try {
        const bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
        const scale = Math.min(1, LONGEST_PX / Math.max(bitmap.width, bitmap.height));
        setFault("");
        setPhoto({ bitmap, w: Math.round(bitmap.width * scale), h: Math.round(bitmap.height * scale) });
      } catch (_error) { setFault(words.bad); }
    };
    return [photo, fault, open];
  }

  function Mark({ at, label, index, move, r }) {
    return h("g", {
      className: "wall-mark", tabIndex: 0, role: "button", "aria-label": label, "data-grip": index,
      onKeyDown: (event) => move(event, index),
    }, h("circle", { cx: at.x, cy: at.y, r: r * 2.4, fill: "transparent" }),
      h("circle", { cx: at.x, cy: at.y, r, className: "wall-ring" }),
      h("path", { d: `M${at.x - r * 1.8} ${at.y}H${at.x + r * 1.8}`, className: "wall-line" }));
  }

  function WallPhoto({ units, unit, known, least, most, words }) {
    const [photo, fault, open] = usePhoto(words);
    const [marks, setMarks] = useState(kept ? kept.marks : []);
    const [place, setPlace] = useState(kept ? kept.place : null);
    const [typed, setTyped] = useState(kept && kept.unit === unit ? kept.typed : String(known));
    const [which, setWhich] = useState(0);
    const canvas = useRef(null), top = useRef(null), grip = useRef(null), before = useRef(kept ? kept.photo : null);
    const chosen = units[Math.min(which, units.length - 1)];
    const height = Number(String(typed).replace(",", "."));
    const valid = Number.isFinite(height) && height >= least && height <= most;
    const scale = marks.length === 2 && valid ? distance(marks[0], marks[1]) / height : 0;
    const wide = scale * chosen.wide, high = scale * chosen.high;

    useEffect(() => { kept = photo ? { photo, marks, place, typed, unit } : null; });
    useEffect(() => { if (!kept || kept.unit !== unit) setTyped(String(known)); }, [unit]);
    useEffect(() => {
      if (photo === before.current) return;
      before.current = photo;
      setMarks([]);
      setPlace(null);
    }, [photo]);
    useLayoutEffect(() => {
      if (photo) canvas.current.getContext("2d").drawImage(photo.bitmap, 0, 0, photo.w, photo.h);
    }, [photo]);

    const hang = (both) => {
      if (!valid || distance(both[0], both[1]) < 4) return;
      const s = distance(both[0], both[1]) / height;
      if (!place) setPlace(firstPlace(both, { w: photo.w, h: photo.h, wide: s * chosen.wide, high: s * chosen.high, low: chosen.low }));
    };
    const put = (both) => { setMarks(both); if (both.length === 2) hang(both); };
    const at = (event) => {
      const box = top.current.getBoundingClientRect();
      return {
        x: clamp((event.clientX - box.left) / box.width, 0, 1) * photo.w,
        y: clamp((event.clientY - box.top) / box.height, 0, 1) * photo.h,
      };
    };
    const shift = (what, dx, dy) => {
      if (what === "unit") {
        setPlace((old) => ({ x: clamp(old.x + dx, -wide / 2, photo.w - wide / 2), y: clamp(old.y + dy, -high / 2, photo.h - high / 2) }));
      } else {
        setMarks((old) => old.map((mark, k) => (k === what
          ? { x: clamp(mark.x + dx, 0, photo.w), y: clamp(mark.y + dy, 0, photo.h) } : mark)));
      }
    };
    const byKey = (event, what) => {
      const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
      const way = ways[event.key];
      if (!way) return;
      event.preventDefault();
      const step = (event.shiftKey ? 0.05 : 0.01) * Math.max(photo.w, photo.h);
      shift(what, way[0] * step, way[1] * step);
    };
    const press = (event) => {
      const point = at(event);
      if (marks.length < 2) { event.preventDefault(); put([...marks, point]); return; }
      const part = event.target.closest("[data-grip]");
      if (!part) return;
      const what = part.getAttribute("data-grip");
      grip.current = { what: what === "unit" ? what : Number(what), last: point };
      top.current.setPointerCapture(event.pointerId);
    };
    const drag = (event) => {
      if (!grip.current) return;
      const point = at(event);
      shift(grip.current.what, point.x - grip.current.last.x, point.y - grip.current.last.y);
      grip.current.last = point;
    };
    const release = () => { grip.current = null; };
    const byKeys = () => put([{ x: 0.3 * photo.w, y: 0.25 * photo.h }, { x: 0.3 * photo.w, y: 0.85 * photo.h }]);

    const r = photo ? Math.max(photo.w, photo.h) / 90 : 0;
    const told = !photo ? "" : marks.length === 0 ? words.first : marks.length === 1 ? words.second : words.drag;
    const foot = marks.length === 2 ? Math.max(marks[0].y, marks[1].y) : 0;
    const above = place && scale ? Math.round((foot - place.y - high) / scale) : null;
    const choose = h("label", { className: `button${photo ? "" : " main"}` }, photo ? words.another : words.choose,
      h("input", { type: "file", accept: "image/*", className: "unseen", onChange: open }));
    const overlay = photo ? h("svg", {
      ref: top, className: "wall-top", viewBox: `0 0 ${photo.w} ${photo.h}`, onPointerDown: press, onPointerMove: drag,
      onPointerUp: release, onPointerCancel: release, role: "group", "aria-label": told,
    },
      place && scale ? h("g", {
        className: "wall-unit", tabIndex: 0, role: "button", "aria-label": `${chosen.label}. ${words.drag}`, "data-grip": "unit",
        onKeyDown: (event) => byKey(event, "unit"),
      },
        h("rect", { x: place.x, y: place.y, width: wide, height: high, rx: high * 0.09 }),
        h("path", { d: `M${place.x + wide * 0.06} ${place.y + high * 0.8}H${place.x + wide * 0.94}` })) : null,
      marks.map((mark, k) => h(Mark, { key: k, at: mark, index: k, r, move: byKey, label: k ? words.foot : words.top }))) : null;
    return h("div", { className: "wall" },
      h("div", { className: "wall-tools" }, choose,
        photo ? h("button", { type: "button", className: "button", onClick: () => { setMarks([]); setPlace(null); } }, words.again) : null,
        photo && marks.length < 2 ? h("button", { type: "button", className: "button", onClick: byKeys }, words.keys) : null,
        photo ? h("label", { className: "wall-field" }, words.known,
          h("input", { type: "text", inputMode: "decimal", size: 5, value: typed, "aria-invalid": valid ? undefined : true,
            onChange: (event) => setTyped(event.target.value) }), h("span", null, unit)) : null,
        photo && units.length > 1 ? h("label", { className: "wall-field" }, words.which,
          h("select", { value: Math.min(which, units.length - 1), onChange: (event) => setWhich(Number(event.target.value)) },
            units.map((one, k) => h("option", { key: k, value: k }, one.label)))) : null),
      h("p", { className: "wall-told", role: "status" }, fault || (valid ? told : filled(words.range, { least: `${least}`, most: `${most} ${unit}` }))),
      photo ? h("div", { className: "wall-sheet", style: { aspectRatio: `${photo.w} / ${photo.h}`, maxWidth: `min(100%, 900px, ${(72 * photo.w / photo.h).toFixed(1)}vh)` } },
        h("canvas", { ref: canvas, width: photo.w, height: photo.h, "aria-hidden": true }), overlay) : null,
      place && scale ? h("p", { className: "wall-note" },
        `${chosen.label}. ${above !== null && above >= 0 ? filled(words.above, { height: `${above} ${unit}` }) : ""}`) : null,
      h("p", { className: "quiet" }, h("b", null, words.stays), ` ${words.square} ${words.generic}`));
  }

  window.hplayouts_page = Object.assign(window.hplayouts_page || {}, { WallPhoto });
})();
