/* The browser's half of dashboard/components.py. Plain React, no build step, nothing evaluated, nothing fetched. */
(function () {
  "use strict";
  const { createElement: h, Fragment, useEffect, useId, useLayoutEffect, useRef, useState } = window.React;

  const ELEMENTS = new Set([
    "svg", "g", "title", "desc", "defs", "pattern", "clipPath", "path", "line", "rect", "circle", "ellipse",
    "polygon", "polyline", "text", "tspan",
  ]);
  const ATTRIBUTES = new Set([
    "id", "viewBox", "width", "height", "preserveAspectRatio", "role", "aria-label", "aria-hidden", "x", "y", "x1",
    "y1", "x2", "y2", "dx", "dy", "cx", "cy", "r", "rx", "ry", "d", "points", "transform", "fill", "fill-opacity",
    "fill-rule", "stroke", "stroke-width", "stroke-opacity", "stroke-linecap", "stroke-linejoin", "stroke-dasharray",
    "stroke-dashoffset", "opacity", "paint-order", "clip-path", "patternUnits", "patternTransform", "font-family",
    "font-size", "font-weight", "font-style", "text-anchor", "letter-spacing", "xmlns",
  ]);

  /* Every element and attribute that is not on the lists goes; names get a prefix, because many pictures share a page. */
  function cleaned(node, prefix) {
    for (const child of [...node.children]) {
      if (ELEMENTS.has(child.localName)) cleaned(child, prefix);
      else child.remove();
    }
    for (const { name, value } of [...node.attributes]) {
      if (!ATTRIBUTES.has(name)) node.removeAttribute(name);
      else if (name === "id") node.setAttribute(name, prefix + value);
      else if (/url\s*\(/i.test(value)) {
        const own = /^url\(#([\w-]+)\)$/.exec(value);
        if (own) node.setAttribute(name, `url(#${prefix}${own[1]})`);
        else node.removeAttribute(name);
      }
    }
    return node;
  }

  function Drawing({ svg, hidden, className }) {
    const box = useRef(null);
    const prefix = useId().replace(/[^\w]/g, "") + "-";
    useLayoutEffect(() => {
      const root = new DOMParser().parseFromString(svg || "", "image/svg+xml").documentElement;
      if (root.localName !== "svg") box.current.replaceChildren();
      else box.current.replaceChildren(document.importNode(cleaned(root, prefix), true));
    }, [svg, prefix]);
    return h("div", { ref: box, className: `drawing ${className || ""}`, "aria-hidden": hidden ? true : undefined });
  }

  /* A value that follows the server but answers a tap at once. */
  function useOwn(value) {
    const [own, setOwn] = useState(value);
    useEffect(() => setOwn(value), [value]);
    return [own, setOwn];
  }

  function Stops({ name, label, words, value, setProps }) {
    const [own, setOwn] = useOwn(value);
    const choose = (stop) => { setOwn(stop); setProps({ value: stop }); };
    const stops = words.map((word, k) => h("label", { key: k, className: `stop${k + 1 < own ? " below" : ""}` },
      h("input", {
        type: "radio", name, value: k + 1, checked: own === k + 1, "aria-label": `${label}: ${word}`,
        onChange: () => choose(k + 1),
      }),
      h("span", { className: "dot", "aria-hidden": true })));
    return h("div", { className: "stops", role: "radiogroup", "aria-label": label },
      h("span", { className: "stops-label", "aria-hidden": true }, label),
      h("span", { className: "stops-row" }, stops),
      h("span", { className: "stops-word", "aria-hidden": true }, words[own - 1]));
  }

  function Toggle({ label, detail, yes, no, value, setProps }) {
    const [own, setOwn] = useOwn(value);
    const turn = (event) => { setOwn(event.target.checked); setProps({ value: event.target.checked }); };
    return h("label", { className: "toggle" },
      h("span", { className: "toggle-text" },
        h("span", { className: "toggle-label" }, label),
        detail ? h("span", { className: "toggle-detail" }, detail) : null),
      h("input", { type: "checkbox", role: "switch", checked: own, onChange: turn }),
      h("span", { className: "toggle-track", "aria-hidden": true },
        h("span", { className: "toggle-word" }, own ? yes : no), h("span", { className: "toggle-knob" })));
  }

  /* An answer puts new parts in place of old ones; whoever stood on an old one is put on the new one of the same meaning. */
  function useKeptFocus(box) {
    useEffect(() => {
      let held = null;
      const hold = (event) => { held = event.target.getAttribute("data-tap"); };
      const drop = (event) => { if (!event.target.closest("[data-tap]")) held = null; };
      const watch = new MutationObserver(() => {
        if (held === null || document.activeElement !== document.body) return;
        const again = [...box.current.querySelectorAll("[data-tap]")].find((part) => part.getAttribute("data-tap") === held);
        if (again) again.focus({ preventScroll: true });
      });
      box.current.addEventListener("focusin", hold);
      document.addEventListener("pointerdown", drop);
      watch.observe(box.current, { childList: true, subtree: true });
      return () => { watch.disconnect(); document.removeEventListener("pointerdown", drop); };
    }, []);
  }

  /* Whoever opened something under the plan is brought to it. */
  function useArrival(box) {
    const opened = useRef(false);
    useEffect(() => {
      const place = box.current.querySelector("#panel");
      if (!place) return undefined;
      const watch = new MutationObserver(() => {
        if (!opened.current || !place.firstElementChild) return;
        opened.current = false;
        const fits = place.getBoundingClientRect().height < window.innerHeight;
        place.scrollIntoView({ block: fits ? "nearest" : "start" });
      });
      watch.observe(place, { childList: true, subtree: true });
      return () => watch.disconnect();
    }, []);
    return (what) => { opened.current = /^(panel|beside):./.test(what); };
  }

  function Taps({ children, className, setProps }) {
    const count = useRef(0), box = useRef(null);
    useKeptFocus(box);
    const arrive = useArrival(box);
    const hear = (event) => {
      const target = event.target.closest("[data-tap]");
      if (target) arrive(target.getAttribute("data-tap"));
      if (target) setProps({ tap: { what: target.getAttribute("data-tap"), number: (count.current += 1) } });
    };
    return h("div", { ref: box, className, onClick: hear }, children);
  }

  function cell(inside) {
    if (typeof inside === "string") return inside;
    const { tap, pressed, label, sign, strong, words } = inside;
    if (tap) return h("button", { className: "open", "data-tap": tap, "aria-pressed": pressed, "aria-label": label }, words);
    return h(Fragment, null, sign ? h("span", { "aria-hidden": true }, sign) : null, strong ? h("b", null, strong) : null, words);
  }

  function Grid({ head, rows, figures, caption }) {
    const css = head.map((_, k) => (figures.includes(k) ? "figure" : undefined));
    const line = (row, key) => h("tr", { key }, row.map((inside, k) => (k
      ? h("td", { key: k, className: css[k] }, cell(inside))
      : h("th", { key: k, className: css[k], scope: "row" }, cell(inside)))));
    return h("div", { className: "table", tabIndex: 0, role: "group", "aria-label": caption || head.join(", ") }, h("table", null,
      caption ? h("caption", null, caption) : null,
      h("thead", null, h("tr", null, head.map((name, k) => h("th", { key: k, className: css[k], scope: "col" }, name)))),
      h("tbody", null, rows.map(line))));
  }

  const FORMS = [["narrow", "(max-width: 700px)"], ["landscape", "(min-width: 1200px)"]];

  /* Controls say what the server says, where it took a change back; each then tells it as if it had been tapped. */
  function usePut(put) {
    useEffect(() => {
      if (!put) return;
      const say = (kind, values) => Object.entries(values).forEach(
        ([key, value]) => window.dash_clientside.set_props({ kind, key }, { value }));
      say("stops", put.stops);
      say("switch", put.switches);
    }, [put && put.number]);
  }

  function Screen({ form, put, setProps }) {
    usePut(put);
    useEffect(() => {
      const lists = FORMS.map(([name, query]) => [name, window.matchMedia(query)]);
      const tell = () => {
        const now = (lists.find(([, list]) => list.matches) || ["portrait"])[0];
        setProps({ form: now });
      };
      lists.forEach(([, list]) => list.addEventListener("change", tell));
      if (form === undefined) tell();
      return () => lists.forEach(([, list]) => list.removeEventListener("change", tell));
    }, []);
    return null;
  }

  window.hplayouts_page = { Drawing, Grid, Stops, Toggle, Taps, Screen };
})();
