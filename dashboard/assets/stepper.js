/* The browser's half of `Stepper`: two buttons and a field. What is chosen goes out as a tap. */
(function () {
  "use strict";
  const { createElement: h, useEffect, useRef, useState } = window.React;

  function Stepper({ label, detail, tap, value, down, up, least, most, unit }) {
    const [typed, setTyped] = useState(String(value)), [said, setSaid] = useState("");
    const send = useRef(null);
    useEffect(() => { setTyped(String(value)); setSaid(""); }, [value, unit]);
    const settle = () => {
      const number = Number(typed.trim().replace(",", "."));
      if (typed.trim() === "" || !Number.isFinite(number) || number < least || number > most) {
        setSaid(`From ${least} to ${most} ${unit}.`);
        return;
      }
      setSaid("");
      if (number === value) { setTyped(String(value)); return; }
      send.current.setAttribute("data-tap", tap + number);
      send.current.click();
    };
    const side = (sign, words, to) => h("button", {
      type: "button", className: "step", disabled: to === null || to === undefined, "aria-label": `${label}: ${words}`,
      "data-tap": to === null || to === undefined ? undefined : tap + to,
    }, sign);
    return h("div", { className: "stepper", role: "group", "aria-label": label },
      h("span", { className: "toggle-text" },
        h("span", { className: "toggle-label" }, label), h("span", { className: "toggle-detail" }, said || detail)),
      h("span", { className: "step-row" },
        side("−", "less", down),
        h("span", { className: "step-field" },
          h("input", {
            type: "text", inputMode: "decimal", value: typed, "aria-label": `${label}, ${unit}`, size: 4,
            "aria-invalid": said ? true : undefined,
            onChange: (event) => setTyped(event.target.value),
            onKeyDown: (event) => { if (event.key === "Enter") settle(); },
            onBlur: settle,
          }),
          h("span", { "aria-hidden": true }, unit)),
        side("+", "more", up)),
      h("button", { type: "button", ref: send, hidden: true, tabIndex: -1, "aria-hidden": true }),
      h("span", { className: "unseen", role: "status" }, said));
  }

  window.hplayouts_page = Object.assign(window.hplayouts_page || {}, { Stepper });
})();
