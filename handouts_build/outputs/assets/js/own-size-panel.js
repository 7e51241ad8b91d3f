/* The panel in which a reader types sizes, and everything on the page that follows them.
   What a page shows is there without this script; it only changes what is there. The unit
   and the rule once chosen are kept for the whole site, sizes stand in the page's address. */
(function () {
  "use strict";

  const api = window.handoutsOwnSize;
  const NB = "\u00a0";
  const KEEP = "handouts.";
  const ADDRESS = "#sizes:";
  const LEVELS = { stop: "Stop", danger: "Danger", warning: "Warning", caution: "Caution", notice: "Notice", mind: "Mind", note: "Note" };
  const HEADS = { in: "Inches", mm: "Millimeters" };
  const FRACTION = /(\d{1,3}\/\d{1,3})(?=[ \u00a0]?(?:in|ft|min|″|")(?![A-Za-z]))/;

  function kept(name) {
    try { return window.localStorage.getItem(KEEP + name); } catch (error) { return null; }
  }
  function keep(name, value) {
    try { window.localStorage.setItem(KEEP + name, value); } catch (error) { /* A browser that keeps nothing keeps no unit. */ }
  }
  function all(selector, home) {
    return Array.from((home || document).querySelectorAll(selector));
  }
  function make(tag, name, ...inside) {
    const made = document.createElement(tag);
    if (name) made.className = name;
    made.append(...inside);
    return made;
  }
  /* Text with each shop fraction told apart, so that the font may set it as one. */
  function show(home, text) {
    const parts = text.split(FRACTION).map((part, each) => each % 2 ? make("span", "hb-frac", part) : part);
    home.replaceChildren(...parts.filter((part) => part !== ""));
  }
  function sentence(text) {
    return text && text[0].toUpperCase() + ended(text.slice(1));
  }
  function ended(text) {
    return /[.!?]$/.test(text) ? text : text + ".";
  }

  /* Pairs that no formula stands behind, such as stations: only which comes first can change. */
  function swap(lead) {
    const leads = (text) => text.endsWith(NB + "mm") ? "mm" : text.endsWith(NB + "in") ? "in" : "";
    for (const one of all("[data-swap] .hb-value")) {
      const other = one.nextElementSibling, first = one.textContent;
      if (!other || !other.matches(".hb-other") || !leads(first) || leads(first) === lead) continue;
      const second = other.textContent.replace(/^\(|\)$/g, "");
      show(one, second);
      show(other, other.tagName === "TD" ? first : "(" + first + ")");
    }
    for (const one of all(document.getElementById("own-size-data") ? "[data-swap-said]" : "[data-of]:not([data-as]), [data-swap-said]")) {
      const found = /^(.*) \((.*)\)$/.exec(one.textContent.trim());
      if (found && leads(found[1]) && leads(found[1]) !== lead) show(one, found[2] + " (" + found[1] + ")");
    }
  }

  function start() {
    const source = document.getElementById("own-size-data"), form = document.querySelector("form.hb-own");
    const unit = kept("unit");
    if (!source || !form || !api) {
      if (unit === "in" || unit === "mm") requestAnimationFrame(() => swap(unit));
      return;
    }
    if (form.dataset.ready) return;
    form.dataset.ready = "yes";
    panel(JSON.parse(source.textContent), form, unit);
  }

  function panel(data, form, unit) {
    const field = (size) => form.elements["own-" + size.name];
    const state = { lead: data.rule.lead, in: data.rule.in, mm: data.rule.mm, good: {}, typed: {} };
    let timer = 0, asked = false, worked = null;

    if (HEADS[unit]) state.lead = unit;
    for (const one of ["in", "mm"]) {
      const found = data.rules[one].find((step) => step.join("/") === kept("rule." + one));
      if (found) state[one] = found;
    }
    for (const size of data.sizes) {
      state.good[size.name] = size.value;
      state.typed[size.name] = size.text;
      field(size).value = size.text;
    }
    form.firstElementChild.disabled = false;

    function rule() {
      return { lead: state.lead, in: state.in, mm: state.mm };
    }
    function later() {
      if (!asked) requestAnimationFrame(() => { asked = false; follow(); });
      asked = true;
    }

    /* ---- What stands in the address ---- */

    function fromAddress() {
      if (!location.hash.startsWith(ADDRESS)) return false;
      const known = new Map(data.sizes.map((size) => [size.name, size]));
      let lost = location.hash.length > 2000;
      for (const size of data.sizes) state.typed[size.name] = size.text;
      for (const part of lost ? [] : location.hash.slice(ADDRESS.length).split("&").filter(Boolean)) {
        const at = part.indexOf("="), name = part.slice(0, at);
        try {
          if (known.has(name)) state.typed[name] = decodeURIComponent(part.slice(at + 1)).slice(0, 100);
          else lost = true;
        } catch (error) {
          lost = true;
        }
      }
      for (const size of data.sizes) place(size);
      form.querySelector("[data-own-address]").textContent = lost ? "Part of this page's address says nothing about the sizes of this piece, and is left out." : "";
      return true;
    }
    /* A choice stands in a list; what the list has not got is added, to be told what is wrong with it. */
    function place(size) {
      const at = field(size), text = state.typed[size.name];
      at.value = text;
      if (at.value === text || !size.choices) return;
      const odd = make("option", "", text);
      odd.value = text;
      at.append(odd);
      at.value = text;
    }
    function toAddress() {
      const own = data.sizes.filter((size) => state.typed[size.name] !== size.text && !field(size).matches("[aria-invalid=true]"));
      const hash = own.length ? ADDRESS + own.map((size) => size.name + "=" + encodeURIComponent(state.typed[size.name])).join("&") : "";
      if (hash === location.hash || !hash && !location.hash.startsWith(ADDRESS)) return;
      try { history.replaceState(history.state, "", hash || location.pathname + location.search); } catch (error) { location.hash = hash; }
    }

    /* ---- What follows ---- */

    function follow() {
      const chosen = {}, left = [];
      for (const size of data.sizes) {
        const wrong = document.getElementById("own-" + size.name + "-wrong");
        let said = "";
        try {
          state.good[size.name] = api.sized(size, state.typed[size.name], data.units, state.lead);
        } catch (error) {
          if (error instanceof Error) throw error;
          said = sentence(error.told) + " " + sentence(error.hint);
          left.push(size);
        }
        if (wrong.textContent !== said) show(wrong, said.trim());
        field(size).setAttribute("aria-invalid", said ? "true" : "false");
        chosen[size.name] = state.good[size.name];
      }
      worked = api.work(data, chosen, rule());
      const own = data.sizes.some((size) => worked.moved.has(size.name));
      values();
      workings();
      units();
      findings(own);
      tell(own, left);
      all("[data-group]").forEach((one) => stand(one, own && changed(one.dataset.group), "Drawn at the sizes as written, not at yours."));
      all("[data-written]").forEach((one) => stand(one, own, one.dataset.written || "at the sizes as written"));
      all("[data-rests]").forEach((one) => stand(one, one.dataset.rests.split(" ").some(elsewhere), "said of the sizes as written"));
      onPaper(own);
      data.pieces.forEach(stations);
      swap(state.lead);
      toAddress();
    }
    function elsewhere(name) {
      return !worked.values.has(name) || worked.moved.has(name) || worked.stale.has(name);
    }
    function changed(group) {
      return Array.from(worked.values.keys()).some((name) => name.startsWith(group + ".") && (worked.moved.has(name) || worked.stale.has(name)));
    }
    /* What does not follow says so where it stands, on the screen as on paper. */
    function stand(one, yes, words) {
      const there = one.querySelector(":scope > .hb-own__stale");
      const tag = one.tagName === "TABLE" ? "caption" : one.matches("dd, li") ? "span" : "p";
      if (yes && !there) one.append(make(tag, "hb-own__stale", tag === "span" ? " (" + words + ")" : words));
      if (!yes && there) there.remove();
    }
    function printed(name) {
      const blank = /^blank:(\d+):(\d+)$/.exec(name);
      if (!blank) return worked.values.has(name) ? [worked.prints.get(name), worked.stale.has(name)] : [null, false];
      const side = worked.blanks[blank[1]][blank[2]];
      return side ? [side.printed, side.stale] : [null, false];
    }
    function values() {
      for (const one of all("[data-of]")) {
        const [p, old] = printed(one.dataset.of), as = one.dataset.as;
        let text = "–";
        if (p) text = as === "lead" ? p.lead : as === "other" ? p.other : as === "aside" ? p.other && "(" + p.other + ")" : api.said(p);
        else if (as === "other" || as === "aside") text = "";
        if (one.tagName === "TD") text = text.replace(/\u00a0(?=[^\u00a0/]+\/[^\u00a0/]+$)/, " ");
        const mark = old && as !== "other" && as !== "aside";
        if (one.textContent === text && !mark) continue;
        show(one, text);
        if (mark) one.append(make("span", "hb-hint hb-own__old", " as written"));
      }
      for (const one of all("[data-bounds]")) {
        const size = data.sizes.find((each) => each.name === one.dataset.bounds);
        const told = (x) => api.shown(x, size.kind, rule(), size).lead;
        const text = size.least !== undefined && size.most !== undefined ? told(size.least) + " to " + told(size.most)
          : size.least !== undefined ? "at least " + told(size.least) : size.most !== undefined ? "at most " + told(size.most) : one.textContent;
        if (text !== one.textContent) show(one, text);
      }
    }
    /* Every place on a profile where its diameter is told; two that print alike are told once, as on paper. */
    function stations(piece) {
      const table = piece.stations && document.querySelector("[data-stations=" + piece.name + "] tbody");
      if (!table) return;
      const rows = [];
      for (const [what, at, across, how] of worked.failed.has(piece.name) ? [] : piece.stations) {
        const told = (name, how) => api.shown(worked.values.get(name), "length", rule(), how, worked.hole(how.below));
        const row = [what, told(at, {}), told(across, how)];
        const last = rows[rows.length - 1], same = last && api.said(last[1]) === api.said(row[1]) && api.said(last[2]) === api.said(row[2]);
        rows.splice(same ? -1 : rows.length, 1, row);
      }
      const told = JSON.stringify(rows);
      if (told === table.dataset.told) return;
      table.dataset.told = told;
      table.replaceChildren(...(rows.length ? rows : [["–"]]).map(([what, ...sizes]) => {
        const head = make("th", "", what), row = make("tr", "", head);
        head.scope = "row";
        for (const p of sizes) {
          const lead = make("span", "hb-value"), other = make("span", "hb-other");
          show(lead, p.lead);
          show(other, "(" + p.other + ")");
          row.append(make("td", "", lead, " ", other));
        }
        return row;
      }));
    }
    function workings() {
      for (const one of all("[data-working]")) {
        const name = one.dataset.working, formula = one.querySelector(".hb-formula");
        const how = worked.rows.has(name) ? api.working(worked, name, rule()) : null;
        if (!how && !data.pieces.some((piece) => (piece.dimensions || []).some((each) => each.name === name))) continue;
        all("[data-line]", formula).forEach((each) => each.remove());
        for (const text of how ? [how.numbers, how.result] : ["–"]) {
          if (!text) continue;
          const line = make("span");
          line.dataset.line = "";
          show(line, "= " + text);
          formula.append(" ", line);
        }
        const rounding = one.querySelector(".hb-rounding");
        show(rounding, how ? how.rounding : "");
      }
    }
    function units() {
      const other = state.lead === "in" ? "mm" : "in";
      for (const one of all("[data-unit]")) one.textContent = HEADS[one.dataset.unit === "lead" ? state.lead : other];
      form.elements["own-unit"].value = state.lead;
      const list = form.elements["own-rule"], steps = data.rules[state.lead];
      if (list.dataset.listed !== state.lead) {
        list.replaceChildren(...steps.map((step) => {
          const text = state.lead === "in" ? step.join("/").replace(/\/1$/, "") : String(step[0] / step[1]);
          const option = make("option", "", text + NB + state.lead);
          option.value = step.join("/");
          return option;
        }));
        list.dataset.listed = state.lead;
      }
      list.value = state[state.lead].join("/");
    }
    function box(one) {
      const text = make("p", "", make("strong", "hb-word", LEVELS[one.level]), " ", make("b", "", one.about + ":"), " ");
      const words = make("span");
      show(words, ended(one.told || one.message) + (one.remedy ? " What to do: " + ended(one.remedy) : ""));
      text.append(words);
      return text;
    }
    function nearest() {
      const written = data.sizes.map((size) => size.value), names = data.sizes.map((size) => size.name);
      const away = (sizes) => names.reduce((sum, name, each) => sum + Math.abs(Math.log(worked.values.get(name) / sizes[each])), 0);
      const ready = data.ready.map((one) => [one, names.map((name, each) => name in one.values ? one.values[name] : written[each])]);
      const found = [[{ says: "", findings: data.findings }, written], ...ready].sort((a, b) => away(a[1]) - away(b[1]))[0];
      return { says: found[0].says, findings: found[0].findings, away: away(found[1]) };
    }
    /* The author's own rules that do not hold come first: they say why. Then what cannot be worked out, then what is
       found, gravest first. */
    function verdicts() {
      const order = Object.keys(LEVELS), found = worked.cautions.concat(worked.findings);
      const wrong = worked.problems.map((one) => {
        const about = title(one.at);
        return { level: "stop", about: about, message: one.told.replace("“" + about + "”", "this"), remedy: one.told.includes(one.hint) ? "" : one.hint };
      });
      const rest = found.filter((one) => !one.asked).sort((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
      return [...found.filter((one) => one.asked), ...wrong, ...rest];
    }
    /* What the page says of the sizes as written: it knows what the solid tells already. */
    const judged = all("[data-judged]");
    function findings(own) {
      const near = nearest(), list = form.querySelector("[data-own-findings]"), found = verdicts();
      /* What is found at the sizes as written stands on the page already. */
      list.replaceChildren(...(own ? found : []).map((one) => {
        const item = make("li", "hb-box hb-box--" + one.level, box(one));
        return item;
      }));
      all("[data-judged]").forEach((one) => one.remove());
      const here = document.querySelector("[data-judged-here]");
      if (!own && here) here.after(...judged);
      for (const one of own ? found.reverse() : []) {
        const made = make("div", "hb-box hb-box--" + one.level, box(one));
        made.dataset.judged = "";
        if (here) here.after(made);
      }
      const plain = form.querySelector("[data-own-near]");
      show(plain, own ? unworked(near) : plain.dataset.ownNear);
    }
    /* What is not worked out at the sizes chosen, and what is known nearby. */
    function unworked(near) {
      const rest = near.findings.filter((one) => one.level !== "note").map((one) => sentence(one.about + ": " + one.message)).join(" ");
      const told = rest ? " What was found there: " + rest : " Nothing that calls for care was found there.";
      return near.says && near.away < 1e-9
        ? "These are the sizes of “" + near.says + "”. Pictures at these sizes are in its papers; the pictures on this page, and what is marked so, are those of the sizes as written. Its walls and holds have been checked." + told
        : "Pictures, speeds, what is read off the wood and the checks of walls and holds are not worked out at your sizes: they stay as written and are marked so. The nearest sizes that they are worked out for are " +
          (near.says ? "those of the ready size “" + near.says + "”." : "those as written.") + told;
    }
    function title(at) {
      const base = at.split(".")[0], piece = data.pieces.find((one) => one.name === base), blank = data.blanks.find((one) => one.part === base);
      const one = piece && !piece.title && piece.dimensions ? piece.dimensions[0].says : piece ? piece.title : blank ? blank.title : "";
      return one || "What the author asks";
    }
    function tell(own, left) {
      const found = verdicts(), stops = found.filter((one) => one.level === "stop").length, none = worked.problems.length;
      const many = found.filter((one) => one.level !== "note" && one.level !== "stop").length, said = [];
      if (own && stops) said.push((none ? "with these sizes it cannot be made." : "with these sizes it cannot be made or held as written.") + (stops === 1 ? " The reason stands below." : " The " + stops + " reasons stand below."));
      if (left.length) said.push("The numbers still go by " + left.map((size) => api.said(api.shown(state.good[size.name], size.kind, rule(), size)) + " for: " + size.says).join("; ") + ".");
      else if (!own) said.push("These are the sizes as written.");
      else if (!none) said.push("The dimensions, workings and steps follow your sizes.");
      if (own && many) said.push(many + (stops ? " more" : "") + (many === 1 ? " thing" : " things") + " to mind.");
      const text = said.join(" ");
      clearTimeout(timer);
      timer = setTimeout(() => {
        const home = form.querySelector("[data-own-state]"), word = own && stops ? "Stop: " : "";
        if (home.textContent === word + text) return;
        show(home, text);
        if (word) home.prepend(make("strong", "hb-word", "Stop:"), " ");
      }, 400);
    }

    /* ---- What is done to it ---- */

    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("input", (event) => {
      const size = data.sizes.find((one) => event.target === field(one));
      if (size) state.typed[size.name] = event.target.value;
      else if (event.target.name === "own-unit") keep("unit", state.lead = event.target.value);
      else if (event.target.name === "own-rule") {
        state[state.lead] = data.rules[state.lead].find((step) => step.join("/") === event.target.value);
        keep("rule." + state.lead, event.target.value);
      }
      later();
    });
    form.addEventListener("click", (event) => {
      const button = event.target.closest("button");
      if (!button) return;
      if (button.dataset.ownReady !== undefined) {
        const ready = button.dataset.ownReady === "" ? {} : data.ready[button.dataset.ownReady].sizes;
        for (const size of data.sizes) {
          state.typed[size.name] = Object.hasOwn(ready, size.name) ? ready[size.name] : size.text;
          place(size);
        }
        later();
      }
      if (button.dataset.ownPrint) {
        follow();
        api.paper(button.dataset.ownPrint, { data: data, worked: worked, rule: rule(), show: show, make: make, said: apart() });
      }
    });
    /* What a paper at these sizes says before its numbers, and what it says after them. */
    function apart() {
      const own = data.sizes.some((size) => worked.moved.has(size.name));
      const chosen = data.sizes.map((size) => size.says + " " + api.said(worked.prints.get(size.name) || { lead: "–" })).join("; ");
      const lead = make("p");
      show(lead, "Worked out for: " + chosen + ".");
      const found = verdicts(), boxes = (some) => found.filter(some).map(box), after = boxes((one) => one.level !== "stop");
      if (own) {
        const near = make("p");
        show(near, unworked(nearest()));
        after.push(near);
      }
      return { before: [lead, ...boxes((one) => one.level === "stop")], after: after };
    }
    /* The whole page printed from the browser's own menu has no panel: its sizes stand here. */
    function onPaper(own) {
      const home = document.querySelector("[data-own-told]"), said = own ? apart() : null;
      if (home) home.replaceChildren(...(said ? [...said.before, ...said.after] : []));
    }
    window.addEventListener("hashchange", () => {
      if (fromAddress()) later();
      else if (worked) toAddress();
    });

    for (const one of data.ready) {
      one.values = {};
      for (const size of data.sizes) if (Object.hasOwn(one.sizes, size.name)) one.values[size.name] = api.sized(size, one.sizes[size.name], data.units, "in");
    }
    const asis = ["lead", "in", "mm"].every((one) => String(state[one]) === String(data.rule[one]));
    if (fromAddress() || !asis) later();
  }

  (window.document$ || { subscribe: (run) => run() }).subscribe(start);
})();
