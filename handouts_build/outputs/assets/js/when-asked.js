/* Loads what a page needs when it needs it: the steps at the lathe, several facets at once, sizes of one's own where
   there are any or may be chosen, the viewer of solids once its button is pressed. It is the only script that stands
   on every page; the others lie beside it. */
(() => {
  "use strict";

  const OWN = ["-words", "-numbers", "-reading", "-formulas", "", "-templates", "-paper", "-panel"];
  const SORRY = tr("3D cannot be shown here. The still picture stays.");
  const here = /** @type {HTMLScriptElement} */ (document.currentScript).src;

  /** @type {Map<string, HTMLScriptElement>} */
  const asked = new Map();
  /** @type {(name: string) => HTMLScriptElement} */
  const load = (name) => {
    const found = asked.get(name), script = found ?? document.createElement("script");
    if (found) return found;
    asked.set(name, script);
    script.src = new URL(name + ".js", here).href;
    /* One after the other, in the order they are asked for. */
    script.async = false;
    document.head.append(script);
    return script;
  };

  /** @param {string} name */
  const kept = (name) => {
    try { return window.localStorage.getItem("handouts." + name) !== null; } catch { return false; }
  };
  const sizesSaid = () => location.hash.includes("sizes:");
  const own = () => {
    if (!document.querySelector('link[href*="css/own-size.css"]')) {
      const style = document.createElement("link");
      style.rel = "stylesheet";
      style.href = new URL("../css/own-size.css", here).href;
      document.head.append(style);
    }
    for (const part of OWN) load("own-size" + part);
  };

  const start = () => {
    if (document.querySelector("[data-hb-lathe]")) load("lathe");
    if (document.querySelector("[data-hb-find]")) load("find");

    const mark = document.querySelector("[data-hb-own]"), name = mark instanceof HTMLElement ? mark.dataset.hbOwn ?? "" : "";
    const anyKept = kept("unit") || mark !== null && ["sizes." + name, "rule.in", "rule.mm"].some(kept);
    if (anyKept || document.querySelector("form.hb-own") || mark && sizesSaid()) own();

    for (const figure of document.querySelectorAll("[data-hb-solid]")) {
      const open = figure.querySelector(".hb-solid__open"), note = figure.querySelector(".hb-solid__note");
      if (!(open instanceof HTMLElement) || !note || !open.hidden) continue;
      open.hidden = false;
      open.addEventListener("click", () => {
        if (figure.hasAttribute("data-hb-ready")) return;
        note.textContent = tr("Loading …");
        const viewer = load("solid");
        viewer.addEventListener("load", () => open.click(), { once: true });
        viewer.addEventListener("error", () => { note.textContent = SORRY; });
      }, { once: true });
    }
  };

  window.addEventListener("hashchange", () => { if (sizesSaid() && document.querySelector("[data-hb-own]")) own(); });
  if (window.document$) window.document$.subscribe(start);
  else start();
})();
