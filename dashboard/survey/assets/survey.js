/* The browser's half of dashboard/survey/components.py. Plain React; keeps nothing but what was not heard yet. */
(function () {
  "use strict";
  const { createElement: h, useEffect, useLayoutEffect, useRef, useState } = window.React;
  const SAY = "survey-say";
  const say = (node, event) => node.dispatchEvent(new CustomEvent(SAY, { bubbles: true, detail: event }));

  /* Every event waits here until an answer has taken it, so that none is lost between two answers. */
  function Hear({ children, className, heard, seen, file, waiting, setProps }) {
    const box = useRef(null), queue = useRef([]), count = useRef(0), version = useRef(seen), sent = useRef(0), here = useRef(file);
    version.current = seen;
    here.current = file;
    const send = () => {
      if (!queue.current.length) return;
      sent.current = count.current;
      setProps({ said: { events: queue.current.slice(0, 40) } });
    };
    const put = (event) => {
      queue.current = queue.current.filter((old) => !(old.what === "width" && event.what === "width"));
      queue.current.push({ ...event, number: (count.current += 1), seen: version.current, here: here.current || "" });
      send();
    };
    useEffect(() => {
      const before = queue.current.length;
      queue.current = queue.current.filter((event) => event.number > heard);
      if (queue.current.length && before !== queue.current.length && sent.current < count.current) send();
    }, [heard]);
    useEffect(() => {
      const node = box.current, hear = (event) => put(event.detail);
      node.addEventListener(SAY, hear);
      return () => node.removeEventListener(SAY, hear);
    });
    useEffect(() => {
      const wish = decodeURIComponent(window.location.hash.slice(1));
      if (/\.toml$/.test(wish)) put({ what: "open", file: wish });
    }, []);
    useEffect(() => {
      if (count.current === 0 && !file) return;
      window.history.replaceState(null, "", file ? `#${encodeURIComponent(file)}` : window.location.pathname);
    }, [file]);
    useEffect(() => {
      if (!waiting) return undefined;
      const timer = window.setTimeout(() => put({ what: "again" }), 500);
      return () => window.clearTimeout(timer);
    }, [waiting, heard]);
    useKeptFocus(box);
    const tapped = (event) => {
      const link = event.target.closest(".places a");
      const fold = link && document.getElementById(link.getAttribute("href").slice(1));
      if (fold && fold.tagName === "DETAILS") fold.open = true;
      const target = event.target.closest("[data-say]");
      if (target) put(JSON.parse(target.getAttribute("data-say")));
      const goal = event.target.closest("[data-goto]");
      if (goal) goTo(goal.getAttribute("data-goto"));
    };
    const key = (event) => {
      const typing = event.target.closest("input, textarea, select");
      if (!(event.ctrlKey || event.metaKey) || typing) return;
      const what = { z: event.shiftKey ? "redo" : "undo", y: "redo" }[event.key.toLowerCase()];
      if (what) { event.preventDefault(); put({ what }); }
    };
    return h("div", { ref: box, className, onClick: tapped, onKeyDown: key }, children);
  }

  /* To the field of a fault: itself, the nearest one of the same thing, or its section. */
  function goTo(place) {
    const steps = place.split(".");
    for (let end = steps.length; end > 0; end -= 1) {
      const start = steps.slice(0, end).join(".");
      const all = [...document.querySelectorAll("#sheet [data-field]")];
      const found = all.find((node) => node.dataset.field === start || node.dataset.field.startsWith(`${start}.`));
      if (found) {
        const fold = found.closest("details");
        if (fold) fold.open = true;
        found.scrollIntoView({ block: "center" });
        found.focus({ preventScroll: true });
        return;
      }
    }
  }

  /* New parts stand in place of old ones after an answer; the focus goes to the new part of the same meaning. */
  function useKeptFocus(box) {
    useEffect(() => {
      let held = null;
      const name = (node) => ["data-say", "data-ref"].map((key) => [key, node.getAttribute && node.getAttribute(key)]).find(([, value]) => value);
      const hold = (event) => { held = name(event.target) || null; };
      const watch = new MutationObserver(() => {
        if (!held || document.activeElement !== document.body) return;
        const again = [...box.current.querySelectorAll(`[${held[0]}]`)].find((node) => node.getAttribute(held[0]) === held[1]);
        if (again) again.focus({ preventScroll: true });
      });
      box.current.addEventListener("focusin", hold);
      watch.observe(box.current, { childList: true, subtree: true });
      return () => watch.disconnect();
    }, []);
  }

  /* ---- the plan ---- */
  const ELEMENTS = new Set(["svg", "g", "title", "desc", "path", "line", "rect", "circle", "text"]);
  const ATTRIBUTES = new Set([
    "viewBox", "width", "height", "role", "aria-label", "aria-pressed", "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "rx", "d",
    "transform", "fill", "fill-opacity", "stroke", "stroke-width", "stroke-opacity", "stroke-linecap", "stroke-dasharray",
    "paint-order", "font-family", "font-size", "font-weight", "text-anchor", "xmlns", "class", "tabindex", "data-ref", "data-drag", "data-side",
  ]);
  function cleaned(node) {
    for (const child of [...node.children]) { if (ELEMENTS.has(child.localName)) cleaned(child); else child.remove(); }
    for (const { name, value } of [...node.attributes]) {
      if (!ATTRIBUTES.has(name) || /url\s*\(/i.test(value)) node.removeAttribute(name);
    }
    return node;
  }

  const NEAR_PX = 8;
  const DRAWS = new Set(["room", "space"]);
  const short = (value) => String(Math.round(value * 100) / 100);

  function PlanBoard({ svg, frame, tool, unit, step }) {
    const box = useRef(null), over = useRef(null), now = useRef({});
    now.current = { frame, tool, unit, step };
    useLayoutEffect(() => {
      const held = box.current.contains(document.activeElement) ? document.activeElement.getAttribute("data-ref") : null;
      const root = svg ? new DOMParser().parseFromString(svg, "image/svg+xml").documentElement : null;
      if (!root || root.localName !== "svg") { box.current.replaceChildren(); return; }
      box.current.replaceChildren(document.importNode(cleaned(root), true));
      if (held) { const again = box.current.querySelector(`[data-ref="${held}"]`); if (again) again.focus({ preventScroll: true }); }
    }, [svg]);
    useEffect(() => {
      const tell = () => {
        const wide = Math.floor(box.current.getBoundingClientRect().width);
        if (wide > 200) say(box.current, { what: "width", width: wide });
      };
      const watch = new ResizeObserver(() => { window.clearTimeout(watch.timer); watch.timer = window.setTimeout(tell, 120); });
      watch.observe(box.current);
      return () => watch.disconnect();
    }, []);
    useEffect(() => pointers(box.current, over.current, now), []);
    return h("div", { className: `board tool-${tool}` },
      h("div", { ref: box, className: "board-picture", onKeyDown: (event) => keys(event, now.current) }),
      h("div", { ref: over, className: "board-over", "aria-hidden": true }));
  }

  /* Arrow keys move the chosen thing by a step of the grid, with Shift they push a wall of the chosen room. */
  const ARROWS = { ArrowRight: [1, 0, "E"], ArrowLeft: [-1, 0, "W"], ArrowUp: [0, 1, "N"], ArrowDown: [0, -1, "S"] };
  function keys(event, { step }) {
    const target = event.target.closest("[data-ref]");
    if (!target) return;
    const ref = target.getAttribute("data-ref"), chosen = target.getAttribute("aria-pressed") === "true";
    if (event.key === "Enter" || event.key === " ") { event.preventDefault(); say(target, { what: "choose", ref }); }
    if (event.key === "Escape") say(target, { what: "choose", ref: "" });
    if (event.key === "Delete" && chosen) say(target, { what: "remove", ref });
    const arrow = ARROWS[event.key];
    if (!arrow || !chosen || !ref.startsWith("room.")) return;
    event.preventDefault();
    say(target, { what: "move", ref, by: [arrow[0] * step, arrow[1] * step] });
  }

  function pointers(box, over, now) {
    let drag = null;
    const place = (event) => {
      const { left, top } = box.getBoundingClientRect();
      const { frame } = now.current;
      return [frame.left + (event.clientX - left - frame.x) / frame.px, frame.top - (event.clientY - top - frame.y) / frame.px];
    };
    const onGrid = (value) => Math.round(value / now.current.step) * now.current.step;
    const show = (x0, y0, x1, y1, words, line) => {
      const { frame } = now.current;
      const left = frame.x + (Math.min(x0, x1) - frame.left) * frame.px, top = frame.y + (frame.top - Math.max(y0, y1)) * frame.px;
      Object.assign(over.style, { display: "block", left: `${left}px`, top: `${top}px`, width: `${Math.abs(x1 - x0) * frame.px}px`, height: `${Math.abs(y1 - y0) * frame.px}px` });
      over.className = `board-over${line ? " line" : ""}`;
      over.textContent = words;
    };
    const hide = () => { over.style.display = "none"; };

    const down = (event) => {
      if (event.button > 0 || !now.current.frame.px) return;
      const hit = event.target.closest("[data-ref]"), at = place(event);
      drag = { at, hit, x: event.clientX, y: event.clientY, far: false, kind: "tap" };
      if (DRAWS.has(now.current.tool)) drag.kind = "draw";
      else if (now.current.tool === "choose" && hit && hit.dataset.drag) drag.kind = hit.dataset.drag;
      if (drag.kind !== "tap") { event.preventDefault(); box.setPointerCapture(event.pointerId); }
      if (drag.kind === "room") drag.bounds = boundsOf(hit, now.current.frame);
    };
    const move = (event) => {
      if (!drag) return;
      drag.far = drag.far || Math.hypot(event.clientX - drag.x, event.clientY - drag.y) > NEAR_PX;
      if (!drag.far || drag.kind === "tap") return;
      const at = place(event), { unit } = now.current;
      if (drag.kind === "draw") {
        const [x0, y0, x1, y1] = [...drag.at, ...at].map(onGrid);
        show(x0, y0, x1, y1, `${short(Math.abs(x1 - x0))} × ${short(Math.abs(y1 - y0))} ${unit}`);
      } else if (drag.kind === "room") {
        const [x0, y0, x1, y1] = drag.bounds, dx = onGrid(at[0] - drag.at[0]), dy = onGrid(at[1] - drag.at[1]);
        show(x0 + dx, y0 + dy, x1 + dx, y1 + dy, `${short(dx)}, ${short(dy)} ${unit}`);
      } else if (drag.kind === "side") {
        const bounds = boundsOf(box.querySelector(`.room[data-ref="${drag.hit.dataset.ref}"]`), now.current.frame);
        const k = { W: 0, S: 1, E: 2, N: 3 }[drag.hit.dataset.side];
        bounds[k] = onGrid(at[k % 2]);
        const size = k % 2 ? bounds[3] - bounds[1] : bounds[2] - bounds[0];
        show(...bounds, `${short(size)} ${unit}`);
      } else {
        show(onGrid(at[0]) - 0.6, onGrid(at[1]) - 0.6, onGrid(at[0]) + 0.6, onGrid(at[1]) + 0.6, "", true);
      }
    };
    const up = (event) => {
      if (!drag) return;
      const { at, hit, far, kind } = drag, end = place(event), { tool } = now.current;
      drag = null;
      hide();
      if (kind === "draw") { if (far) say(box, { what: "draw", tool, from: at, to: end }); return; }
      if (kind === "tap" || !far) {
        if (far) return;
        if (tool !== "choose" && !DRAWS.has(tool)) say(box, { what: "tap", tool, at });
        else say(box, { what: "choose", ref: hit ? hit.dataset.ref : "" });
      } else if (kind === "room") say(box, { what: "move", ref: hit.dataset.ref, by: [end[0] - at[0], end[1] - at[1]] });
      else if (kind === "side") {
        const side = hit.dataset.side;
        say(box, { what: "push", ref: hit.dataset.ref, side, to: end[side === "E" || side === "W" ? 0 : 1] });
      } else say(box, { what: "move", ref: hit.dataset.ref, at: end });
    };
    const cancel = () => { drag = null; hide(); };
    box.addEventListener("pointerdown", down);
    box.addEventListener("pointermove", move);
    box.addEventListener("pointerup", up);
    box.addEventListener("pointercancel", cancel);
    return () => {
      box.removeEventListener("pointerdown", down);
      box.removeEventListener("pointermove", move);
      box.removeEventListener("pointerup", up);
      box.removeEventListener("pointercancel", cancel);
    };
  }

  function boundsOf(node, frame) {
    const around = node.getBBox();
    const x0 = frame.left + (around.x - frame.x) / frame.px, y1 = frame.top - (around.y - frame.y) / frame.px;
    return [x0, y1 - around.height / frame.px, x0 + around.width / frame.px, y1];
  }

  /* ---- fields ---- */
  function useTyped(value) {
    const [text, setText] = useState(value), [busy, setBusy] = useState(false);
    useEffect(() => { if (!busy) setText(value); }, [value, busy]);
    return [text, setText, busy, setBusy];
  }

  function Typed({ spec, name, tell }) {
    const [text, setText, , setBusy] = useTyped(spec.value);
    const many = spec.kind === "notes";
    const done = () => { setBusy(false); if (text !== spec.value) tell(text); };
    const common = {
      "data-field": name, value: text, placeholder: spec.ghost, "aria-label": spec.spoken, "aria-invalid": spec.fault ? true : undefined,
      "aria-describedby": spec.fault ? `${name}-fault` : undefined, autoComplete: "off", spellCheck: many,
      onFocus: () => setBusy(true), onBlur: done, onChange: (event) => setText(event.target.value),
    };
    if (many) return h("textarea", { ...common, rows: 2 });
    if (spec.kind === "date") return h("input", { ...common, type: "date", placeholder: undefined, spellCheck: undefined });
    return h("input", {
      ...common, type: "text", inputMode: spec.figures ? "decimal" : "text",
      onKeyDown: (event) => { if (event.key === "Enter") { event.preventDefault(); done(); event.target.dispatchEvent(new CustomEvent("survey-enter", { bubbles: true })); } },
    });
  }

  function Choice({ spec, name, tell }) {
    const [own, setOwn] = useState(spec.value);
    useEffect(() => setOwn(spec.value), [spec.value]);
    const listed = spec.empty || !spec.value ? [["", spec.ghost ? `usual: ${spec.ghost}` : "not said"], ...spec.choices.filter(([key]) => key !== "")] : spec.choices;
    const all = spec.choices.some(([key]) => key === "") ? spec.choices : listed;
    return h("select", {
      "data-field": name, value: own, "aria-label": spec.spoken, "aria-invalid": spec.fault ? true : undefined,
      onChange: (event) => { setOwn(event.target.value); tell(event.target.value); },
    }, all.map(([key, words]) => h("option", { key, value: key }, words)));
  }

  function StopRow({ spec, name, tell }) {
    const [own, setOwn] = useState(spec.value);
    useEffect(() => setOwn(spec.value), [spec.value]);
    return h("span", { className: "stop-row", role: "radiogroup", "aria-label": spec.spoken, "data-field": name, tabIndex: -1 },
      spec.choices.map(([key, words]) => h("label", { key, className: own === key ? "stop-cell on" : "stop-cell" },
        h("input", { type: "radio", name, value: key, checked: own === key, onChange: () => { setOwn(key); tell(key); } }), words)));
  }

  /* Radio buttons as small houses. */
  function Picture({ svg }) {
    const box = useRef(null);
    useLayoutEffect(() => {
      const root = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
      box.current.replaceChildren(...(root.localName === "svg" ? [document.importNode(cleaned(root), true)] : []));
    }, [svg]);
    return h("span", { ref: box, className: "picture", "aria-hidden": true });
  }
  function Pictures({ spec, name, tell }) {
    const [own, setOwn] = useState(spec.value);
    useEffect(() => setOwn(spec.value), [spec.value]);
    return h("span", { className: "pictures", role: "radiogroup", "aria-label": spec.spoken },
      spec.choices.map(([key, words, svg]) => h("label", { key, className: own === key ? "small-house on" : "small-house" },
        h("input", { type: "radio", name, value: key, checked: own === key, "aria-label": words, onChange: () => { setOwn(key); tell(key); } }),
        h(Picture, { svg }), h("span", { "aria-hidden": true }, words))));
  }

  const KINDS = { choice: Choice, stops: StopRow, pictures: Pictures };

  function Field({ spec, name, title, tell }) {
    const kind = KINDS[spec.kind] || Typed;
    const label = spec.unit ? `${spec.label}, ${spec.unit}` : spec.label;
    const shown = { ...spec, spoken: title ? `${title}: ${label}` : label };
    return h("div", { className: `field ${spec.kind}${spec.wide ? " wide" : ""}${spec.fault ? " faulty" : ""}${spec.figures ? " figures" : ""}` },
      h("span", { className: "field-label", "aria-hidden": true }, label),
      h(kind, { spec: shown, name, tell }),
      spec.fault ? h("span", { className: "field-fault", id: `${name}-fault` }, spec.fault) : null);
  }

  function Row({ row, prefix, box }) {
    const tell = (spec) => (value) => say(box.current, { what: "set", loc: spec.id, value, mark: spec.mark });
    return h("div", { className: `row${row.fault ? " faulty" : ""}`, role: "group", "aria-label": row.title || undefined },
      row.title ? h("h3", null, row.ref ? h("button", { type: "button", className: "row-title", "data-say": JSON.stringify({ what: "choose", ref: row.ref }), "aria-label": `Show ${row.title} on the plan` }, row.title) : row.title) : null,
      h("div", { className: "fields" },
        row.fields.map((spec) => h(Field, { key: spec.id, spec, name: `${prefix}${spec.id}`, title: row.title, tell: tell(spec) })),
        row.remove ? h("span", { className: "row-ends" },
          row.split ? h("button", { type: "button", className: "quiet-button", "data-say": JSON.stringify({ what: "split", ref: row.ref, axis: "x" }) }, "Split side by side") : null,
          row.split ? h("button", { type: "button", className: "quiet-button", "data-say": JSON.stringify({ what: "split", ref: row.ref, axis: "y" }) }, "Split one above the other") : null,
          h("button", { type: "button", className: "quiet-button", "aria-label": `Delete ${row.title || "this"}`, "data-say": JSON.stringify({ what: "remove", ref: row.ref, mark: row.mark }) }, "Delete")) : null),
      row.fault ? h("p", { className: "field-fault" }, row.fault) : null);
  }

  /* A form that adds something: its fields are kept here until its button is pressed. */
  function Add({ add, prefix, box }) {
    const start = () => Object.fromEntries(add.fields.map((spec) => [spec.id, spec.value]));
    const [values, setValues] = useState(start), [sent, setSent] = useState(0);
    const shape = JSON.stringify(add.fields.map((spec) => [spec.id, spec.choices]));
    const form = useRef(null);
    useEffect(() => {
      setValues((old) => Object.fromEntries(add.fields.map((spec) => {
        const kept = old[spec.id];
        const fits = kept !== undefined && (!spec.choices.length || spec.choices.some(([key]) => key === kept));
        return [spec.id, fits ? kept : spec.value];
      })));
    }, [shape]);
    const go = (latest) => {
      const told = latest || values;
      say(box.current, add.what ? { what: add.what, ...told } : { what: "add", form: add.form, values: told });
      if (!add.what) {
        setValues((old) => ({ ...old, ...Object.fromEntries(add.fields.filter((spec) => !spec.choices.length).map((spec) => [spec.id, ""])) }));
        setSent((k) => k + 1);
        const first = form.current.querySelector("select, input");
        if (first) first.focus();
      }
    };
    const live = useRef(values);
    live.current = values;
    useEffect(() => {
      const enter = () => window.setTimeout(() => go(live.current), 0);
      const node = form.current;
      node.addEventListener("survey-enter", enter);
      return () => node.removeEventListener("survey-enter", enter);
    });
    return h("div", { className: "add", role: "group", "aria-label": add.button, ref: form },
      h("div", { className: "fields" },
        add.fields.map((spec) => h(Field, {
          key: `${spec.id}-${sent}`, spec: { ...spec, value: values[spec.id] === undefined ? spec.value : values[spec.id] }, name: `${prefix}${add.form}.${spec.id}`,
          title: add.button, tell: (value) => { live.current = { ...live.current, [spec.id]: value }; setValues(live.current); },
        })),
        h("span", { className: "row-ends" }, h("button", { type: "button", className: add.main ? "button main" : "button", onClick: () => go(live.current) }, add.button))));
  }

  function Section({ section, folds, prefix, box }) {
    const faults = section.rows.reduce((sum, row) => sum + (row.fault ? 1 : 0) + row.fields.filter((spec) => spec.fault).length, 0);
    const inside = [
      section.line ? h("p", { key: "line", className: "explains" }, section.line) : null,
      ...section.rows.map((row, k) => h(Row, { key: row.ref ? `${row.ref}-${row.title === "Seldom asked" ? "more" : ""}` : `group-${k}`, row, prefix, box })),
      ...section.adds.map((add) => h(Add, { key: add.form, add, prefix, box })),
    ];
    if (!folds) return h("div", { className: "section" }, section.title ? h("h2", null, section.title) : null, inside);
    const count = section.rows.filter((row) => row.ref).length;
    const told = faults ? `${faults} to mend` : count ? String(count) : "";
    return h("details", { className: "part section", id: `part-${section.key}`, "data-faults": faults || undefined },
      h("summary", null, h("h2", null, section.title), told ? h("span", { className: "told" }, told) : null), inside);
  }

  function Sheet({ id, sections, folds }) {
    const box = useRef(null);
    return h("div", { ref: box, id, className: "sheet-of-fields" },
      sections.map((section) => h(Section, { key: section.key + (folds ? "" : section.title), section, folds, prefix: folds ? "" : `${id}:`, box })));
  }

  /* What the next drawn thing is. */
  function Pick({ label, say: event, under, value, choices }) {
    const box = useRef(null), [own, setOwn] = useState(value);
    useEffect(() => setOwn(value), [value]);
    return h("label", { className: "pick", ref: box }, h("span", null, label),
      h("select", {
        value: own, "aria-label": label,
        onChange: (change) => { setOwn(change.target.value); say(box.current, { ...event, [under]: change.target.value }); },
      }, choices.map(([key, words]) => h("option", { key, value: key }, words))));
  }

  window.hplayouts_survey = { Pick, Hear, PlanBoard, Sheet };
})();
