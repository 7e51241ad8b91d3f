/* One step of a project at a time, for whoever stands at the lathe. Without this script the page is all its steps, one
   below the other. Where one was and what is done is kept for the piece; the fragment names the step, and what stands
   after it in the address is for others. */
(() => {
  "use strict";

  const KEEP = "handouts.";
  /** How far a finger must go sideways, in px, and how much more than up or down. */
  const SWIPE = 60, STEEP = 2;

  /** @param {string} name */
  const kept = (name) => {
    try { return window.localStorage.getItem(KEEP + name); } catch { return null; }
  };
  /** @type {(name: string, value: string) => void} */
  const keep = (name, value) => {
    try { window.localStorage.setItem(KEEP + name, value); } catch { /* A browser that keeps nothing begins at the first step. */ }
  };
  /** @type {<Tag extends keyof HTMLElementTagNameMap>(tag: Tag, name: string, ...inside: (Node | string)[]) => HTMLElementTagNameMap[Tag]} */
  const make = (tag, name, ...inside) => {
    const made = document.createElement(tag);
    made.className = name;
    made.append(...inside);
    return made;
  };
  /** @type {(name: string, words: string, act: () => void) => HTMLButtonElement} */
  const button = (name, words, act) => {
    const made = make("button", name, words);
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  };

  const start = () => {
    const home = document.querySelector("[data-hb-lathe]");
    if (home instanceof HTMLElement && !home.dataset.ready) {
      home.dataset.ready = "yes";
      lathe(home);
    }
  };

  /** @param {HTMLElement} home */
  const lathe = (home) => {
    const name = home.dataset.hbLathe ?? "";
    /* A step is its heading, the place before it, and what stands below, each in a frame of its own. */
    const steps = Array.from(document.querySelectorAll("[data-hb-step]"), (body) => {
      const frame = body.parentElement?.matches(".hb") ? body.parentElement : body, heading = frame.previousElementSibling;
      const number = Number(/** @type {HTMLElement} */ (body).dataset.hbStep), tick = body.querySelector("input[type=checkbox]");
      return {
        number, heading, tick: tick instanceof HTMLInputElement ? tick : null, link: home.querySelector("a[href='#step-" + number + "']"),
        name: (heading?.textContent ?? "").replace(/¶|\s+$/g, "").replace(/^\s*\d+\s*/, ""), parts: [heading, frame]
      };
    });
    if (!steps.length) return;
    let at = 0, all = false;

    /* ---- What is done ---- */

    const done = new Set((kept("done." + name) ?? "").split("\n").filter(Boolean));
    const ticks = () => {
      for (const step of steps) {
        if (step.tick) step.tick.checked = done.has(step.name);
        step.link?.classList.toggle("hb-lathe__ticked", done.has(step.name));
        step.link?.setAttribute("aria-label", done.has(step.name) ? tr("{step}, done").replace("{step}", () => step.name) : step.name);
      }
    };
    for (const step of steps) {
      const row = step.tick?.closest("p");
      if (row) row.hidden = false;
      step.tick?.addEventListener("change", () => {
        if (step.tick?.checked) done.add(step.name);
        else done.delete(step.name);
        keep("done." + name, Array.from(done).join("\n"));
        ticks();
      });
    }

    /* ---- Which step stands there ---- */

    const rest = () => /(?:^#|&)(sizes:.*)$/.exec(location.hash)?.[1] ?? "";
    const toAddress = () => {
      const hash = "#" + ["step-" + steps[at].number, rest()].filter(Boolean).join("&");
      if (hash === location.hash) return;
      try { history.replaceState(history.state, "", hash); } catch { location.hash = hash; }
    };
    /* The step that the address names: by its number, or by anything that stands in it. */
    const named = () => {
      const place = location.hash.slice(1).replace(/&?sizes:.*$/, ""), number = /^step-(\d+)$/.exec(place);
      if (number) return steps.findIndex((step) => step.number === Number(number[1]));
      const found = place ? document.getElementById(decodeURIComponent(place)) : null;
      return found ? steps.findIndex((step) => step.parts.some((part) => part?.contains(found))) : -1;
    };
    const place = make("span", "hb-lathe__place");
    place.setAttribute("role", "status");
    const show = () => {
      document.documentElement.classList.toggle("hb-all-steps", all);
      steps.forEach((step, each) => {
        for (const part of step.parts) if (part instanceof HTMLElement) part.hidden = !all && each !== at;
        if (each === at) step.link?.setAttribute("aria-current", "step");
        else step.link?.removeAttribute("aria-current");
      });
      back.disabled = at === 0;
      next.disabled = at === steps.length - 1;
      both.textContent = all ? tr("One step at a time") : tr("All steps");
      place.textContent = tr("Step {number} of {count}").replace("{number}", String(steps[at].number)).replace("{count}", String(steps.length));
      keep("at." + name, steps[at].name);
    };
    /** @type {(to: number, way?: ScrollBehavior) => void} */
    const go = (to, way = "instant") => {
      if (to < 0 || to >= steps.length) return;
      at = to;
      show();
      toAddress();
      list.open = false;
      if (all) steps[at].heading?.scrollIntoView({ behavior: way });
      else window.scrollTo({ top: 0, behavior: way });
    };

    /* ---- What it is moved by ---- */

    const back = button("hb-lathe__back", tr("Back"), () => go(at - 1)), next = button("hb-lathe__next", tr("Next"), () => go(at + 1));
    const both = button("hb-lathe__all", "All steps", () => {
      all = !all;
      list.open = false;
      show();
      if (all) steps[at].heading?.scrollIntoView();
      else window.scrollTo({ top: 0 });
    });
    const list = make("details", "hb-lathe__list"), summary = make("summary", "", make("span", "hb-lathe__title", home.dataset.hbTitle ?? ""), place), steps_ = home.querySelector("nav");
    list.append(summary);
    if (steps_) list.append(steps_);
    list.append(both);
    home.append(list);
    const bar = make("nav", "hb hb-lathe__bar", back, next);
    bar.setAttribute("aria-label", tr("Back and next"));
    document.body.append(bar);

    window.addEventListener("hashchange", () => {
      const to = named();
      if (to >= 0) go(to);
      else toAddress();
    });
    /* A link to the step that the address has already changes no address. */
    document.addEventListener("click", (event) => {
      const link = event.target instanceof Element ? event.target.closest("a[href*='#']") : null;
      if (!(link instanceof HTMLAnchorElement) || link.href.split("#")[0] !== location.href.split("#")[0] || link.hash !== location.hash) return;
      const to = named();
      if (to >= 0) go(to);
    });
    document.addEventListener("keydown", (event) => {
      const busy = event.target instanceof Element && event.target.closest("input:not([type=checkbox]), select, textarea, [contenteditable], [role=slider], canvas");
      if (busy || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
      if (event.key === "ArrowRight") go(at + 1);
      else if (event.key === "ArrowLeft") go(at - 1);
      else return;
      event.preventDefault();
    });
    /** @type {{ x: number, y: number } | null} */
    let touched = null;
    document.addEventListener("touchstart", (event) => {
      const busy = event.target instanceof Element && event.target.closest("input, select, canvas, table, nav");
      touched = busy || event.touches.length !== 1 ? null : { x: event.touches[0].clientX, y: event.touches[0].clientY };
    }, { passive: true });
    document.addEventListener("touchend", (event) => {
      const from = touched, end = event.changedTouches[0];
      touched = null;
      if (!from || !end || all || event.touches.length) return;
      const x = end.clientX - from.x, y = end.clientY - from.y;
      if (Math.abs(x) >= SWIPE && Math.abs(x) > STEEP * Math.abs(y)) go(at + (x < 0 ? 1 : -1));
    }, { passive: true });

    /* ---- The screen is kept on where the browser can: nobody wipes dust off a hand to wake it ---- */

    const awake = async () => {
      if (document.visibilityState !== "visible" || !navigator.wakeLock) return;
      try { await navigator.wakeLock.request("screen"); } catch { /* Refused, as on a low battery: the screen goes dark as it is used to. */ }
    };
    document.addEventListener("visibilitychange", () => void awake());
    void awake();

    document.documentElement.classList.add("hb-lathe-ready");
    ticks();
    const first = named(), last = steps.findIndex((step) => step.name === kept("at." + name));
    at = Math.max(first >= 0 ? first : last, 0);
    show();
    toAddress();
  };

  if (window.document$) window.document$.subscribe(start);
  else start();
})();
