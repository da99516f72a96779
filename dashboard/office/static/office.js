/* The discount answers in place; long work tells how far it is. Without scripts the forms do the same. */
(function () {
  "use strict";
  const place = document.getElementById("effect");

  async function ask(form, pct) {
    const body = new URLSearchParams({ option: form.elements.option.value, discount: pct });
    const answer = await fetch(form.dataset.discount, { method: "POST", body, headers: { "X-Csrf": form.dataset.csrf } });
    if (answer.status === 401) { window.location.assign("/enter"); return; }
    if (!answer.ok) { place.querySelector(".verdict").textContent = "Give a percentage from 0 to 50."; return; }
    place.innerHTML = await answer.text();
    document.querySelectorAll(".step").forEach((step) => step.setAttribute("aria-pressed", String(Number(step.value) === Number(pct))));
    document.querySelectorAll("input[name=discount]").forEach((input) => { input.value = pct; });
  }

  document.querySelectorAll("form[data-discount]").forEach((form) => form.addEventListener("submit", (event) => {
    event.preventDefault();
    const pct = event.submitter && event.submitter.name === "discount" ? event.submitter.value : form.elements.discount.value;
    ask(form, pct.replace(",", "."));
  }));

  const work = document.getElementById("work");
  if (work && work.dataset.running) {
    const timer = setInterval(async () => {
      const answer = await fetch("/work");
      const text = answer.ok ? await answer.text() : "";
      if (!text.includes("<progress")) { clearInterval(timer); window.location.reload(); return; }
      work.innerHTML = text;
    }, 1000);
  }
})();
