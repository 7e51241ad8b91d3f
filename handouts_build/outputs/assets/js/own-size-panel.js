/* The panel in which a reader types sizes, and everything on a project's pages that follows them.
   What a page shows is there without this script; it only changes what is there. The unit and
   the rule once chosen are kept for the whole site, the sizes of a piece for all of its pages:
   they stand in the address too, after a place on the page. It is here when something is to
   change, and asks for what the numbers are worked out from. */
(() => {
  "use strict";

  const own = window.handoutsOwnSize;
  const NB = "\u00a0";
  const KEEP = "handouts.";
  const ADDRESS = "sizes:";
  /** Signs of an address that are read, and of a size in it. */
  const LONGEST = 2000, LONGEST_SIZE = 100;
  const UNITS = /** @type {const} */ (["in", "mm"]);
  /* A fraction with its unit, as the pages tell it apart. */
  const FRACTION = /(\d{1,3}\/\d{1,3})(?=[ \u00a0]?(?:in|ft|min|″|")(?![A-Za-z]))/;

  /** @param {string} name */
  const kept = (name) => {
    try { return window.localStorage.getItem(KEEP + name); } catch { return null; }
  };
  /** @type {(name: string, value: string) => void} */
  const keep = (name, value) => {
    try {
      if (value) window.localStorage.setItem(KEEP + name, value);
      else window.localStorage.removeItem(KEEP + name);
    } catch { /* A browser that keeps nothing keeps no unit, and sizes in the address alone. */ }
  };
  /** The fragment's two halves: a place on the page, and sizes. */
  const fragment = () => {
    const { hash } = location, at = hash.indexOf(ADDRESS);
    return at < 0 ? { place: hash.slice(1), sizes: null } : { place: hash.slice(1, at).replace(/&$/, ""), sizes: hash.slice(at + ADDRESS.length) };
  };
  /** @type {(selector: string, home?: ParentNode) => HTMLElement[]} */
  const all = (selector, home = document) => Array.from(home.querySelectorAll(selector));
  /** @type {(selector: string, home: ParentNode) => HTMLElement} */
  const only = (selector, home) => {
    const [found] = all(selector, home);
    if (!found) throw new Error("the page has no " + selector);
    return found;
  };
  /** @type {OnPaper["make"]} */
  const make = (tag, name, ...inside) => {
    const made = document.createElement(tag);
    if (name) made.className = name;
    made.append(...inside);
    return made;
  };
  /* Text with each shop fraction told apart, so that the font may set it as one. */
  /** @type {OnPaper["show"]} */
  const show = (home, text) => {
    const parts = text.split(FRACTION).map((part, each) => each % 2 ? make("span", "hb-frac", part) : part);
    home.replaceChildren(...parts.filter((part) => part !== ""));
  };
  /** @param {string} text */
  const ended = (text) => /[.!?]$/.test(text) ? text : text + ".";
  /** @param {string} text */
  const sentence = (text) => text && text[0].toUpperCase() + ended(text.slice(1));
  /** @param {Element} home */
  const text = (home) => home.textContent ?? "";
  /** @param {Pair} step */
  const named = (step) => step.join("/");
  /** @param {string | null} unit @returns {unit is Unit} */
  const isUnit = (unit) => unit === "in" || unit === "mm";

  /* Pairs that no formula stands behind, such as stations: only which comes first can change. */
  /** @param {Unit} lead */
  const swap = (lead) => {
    /** @param {string} told */
    const unitOf = (told) => UNITS.find((unit) => told.endsWith(NB + unit));
    /** @param {string} told */
    const trails = (told) => { const unit = unitOf(told); return unit !== undefined && unit !== lead; };
    for (const value of all("[data-swap] .hb-value")) {
      const other = value.nextElementSibling, first = text(value);
      if (!other?.matches(".hb-other") || !trails(first)) continue;
      show(value, text(other).replace(/^\(|\)$/g, ""));
      show(other, other.tagName === "TD" ? first : "(" + first + ")");
    }
    for (const value of all(document.querySelector("[data-hb-own]") ? "[data-swap-said]" : "[data-of]:not([data-as]), [data-swap-said]")) {
      const found = /^(.*) \((.*)\)$/.exec(text(value).trim());
      if (found && trails(found[1])) show(value, found[2] + " (" + found[1] + ")");
    }
  };

  const start = () => {
    const mark = document.querySelector("[data-hb-own]"), unit = kept("unit");
    if (!(mark instanceof HTMLElement) || !own?.arithmetic) {
      if (isUnit(unit)) requestAnimationFrame(() => swap(unit));
      return;
    }
    if (mark.dataset.ready) return;
    mark.dataset.ready = "yes";
    const form = document.querySelector("form.hb-own"), script = document.createElement("script");
    own.receive = (data) => panel(own, data, form instanceof HTMLFormElement ? form : null, mark);
    script.src = mark.dataset.hbSrc ?? "";
    script.addEventListener("error", () => { for (const state of all("[data-own-state]")) state.textContent = tr("The file of the numbers is not here: only the published sizes hold."); });
    document.head.append(script);
  };

  /** @type {(own: OwnSize, data: Project, form: HTMLFormElement | null, mark: HTMLElement) => void} */
  const panel = (own, data, form, mark) => {
    const unit = kept("unit"), KEPT = "sizes." + data.name;
    const { words } = data.constants, { fill, Fault } = own;
    const arithmetic = own.arithmetic(data.constants), { shown, said } = arithmetic;
    /** @param {string} name */
    const control = (name) => /** @type {HTMLInputElement | HTMLSelectElement | null} */ (form?.elements.namedItem(name) ?? null);
    /** @param {Size} size */
    const field = (size) => control("own-" + size.name);
    /** Sizes whose text cannot be them. */
    const wrong = new Set();
    /** What the page says of the sizes as written: it knows what the solid tells already. */
    const judged = all("[data-judged]");
    const home = form && {
      state: only("[data-own-state]", form), address: only("[data-own-address]", form),
      findings: only("[data-own-findings]", form), near: only("[data-own-near]", form)
    };
    const AS_WRITTEN = home ? text(home.state) : "";

    /** @type {Rule} */
    const rule = { ...data.rule };
    /** @type {Record<string, number>} */
    const good = {};
    /** @type {Words} */
    const typed = {};
    /** @type {Worked} */
    let worked;
    let timer = 0, asked = false, begun = false;

    if (isUnit(unit)) rule.lead = unit;
    for (const each of UNITS) rule[each] = data.rules[each].find((step) => named(step) === kept("rule." + each)) ?? rule[each];
    for (const size of data.sizes) {
      good[size.name] = size.value;
      typed[size.name] = size.text;
    }
    if (form) /** @type {HTMLFieldSetElement} */ (form.firstElementChild).disabled = false;

    /* What is typed at once is worked out once; what has been asked for is not lost when a reader goes on before it. */
    const caughtUp = () => {
      if (asked) follow();
    };
    const later = () => {
      if (!asked) requestAnimationFrame(caughtUp);
      asked = true;
    };
    const isOwn = () => data.sizes.some((size) => worked.moved.has(size.name));

    /* ---- What stands in the address, and what is kept ---- */

    /* A choice stands in a list; what the list has not got is added, to be told what is wrong with it. */
    /** @param {Size} size */
    const place = (size) => {
      const at = field(size), wish = typed[size.name];
      if (!at) return;
      at.value = wish;
      if (at.value === wish || !size.choices) return;
      const odd = make("option", "", wish);
      odd.value = wish;
      at.append(odd);
      at.value = wish;
    };
    /* The address comes first: whoever sends it means its sizes. */
    const recalled = () => {
      const { sizes } = fragment(), said = sizes ?? kept(KEPT);
      if (said === null) return false;
      const known = new Set(data.sizes.map((size) => size.name));
      let lost = said.length > LONGEST;
      for (const size of data.sizes) typed[size.name] = size.text;
      for (const part of lost ? [] : said.split("&").filter(Boolean)) {
        const at = part.indexOf("="), name = part.slice(0, at);
        try {
          if (known.has(name)) typed[name] = decodeURIComponent(part.slice(at + 1)).slice(0, LONGEST_SIZE);
          else lost = true;
        } catch {
          lost = true;
        }
      }
      data.sizes.forEach(place);
      if (home) home.address.textContent = lost && sizes !== null ? tr("Part of this page's address names no size of this piece, and is left out.") : "";
      return true;
    };
    const sizesSaid = () => data.sizes.filter((size) => typed[size.name] !== size.text && !wrong.has(size.name))
      .map((size) => size.name + "=" + encodeURIComponent(typed[size.name])).join("&");
    const toAddress = () => {
      const said = sizesSaid(), { place, sizes } = fragment();
      keep(KEPT, said);
      if (said === (sizes ?? "") && (said || sizes === null)) return;
      const hash = [place, said && ADDRESS + said].filter(Boolean).join("&");
      try { history.replaceState(history.state, "", hash ? "#" + hash : location.pathname + location.search); } catch { location.hash = hash; }
    };
    /* Sizes go along to the project's other pages, where nothing is kept too. */
    const inside = make("a");
    inside.href = (mark.dataset.hbSrc ?? "").replace(/[^/]*$/, "") || "./";
    const folder = inside.href;
    window.addEventListener("pagehide", caughtUp);
    document.addEventListener("click", (event) => {
      const link = event.target instanceof Element ? event.target.closest("a") : null;
      if (!link) return;
      caughtUp();
      const said = begun ? sizesSaid() : "";
      if (!said) return;
      const [page, at = ""] = link.href.split("#"), own = /(?:\/|\.html)$/.test(page) && (page.startsWith(folder) || page === folder.replace(/\/$/, ".html"));
      if (own && page !== location.href.split("#")[0] && !at.includes(ADDRESS)) link.hash = [at, ADDRESS + said].filter(Boolean).join("&");
    }, true);

    /* ---- What follows ---- */

    const follow = () => {
      asked = false;
      const left = data.sizes.filter((size) => !taken(size));
      worked = arithmetic.work(data, good, rule);
      begun = true;
      const moved = isOwn();
      values();
      bounds();
      workings();
      units();
      findings(moved);
      tell(moved, left);
      for (const drawing of all("[data-group]")) stand(drawing, moved && changed(drawing.dataset.group ?? ""), tr("Drawn as published, not at your sizes."));
      for (const place of all("[data-written]")) stand(place, moved, place.dataset.written || tr("as published"));
      for (const place of all("[data-rests]")) stand(place, (place.dataset.rests ?? "").split(" ").some(elsewhere), tr("as published"));
      whose(moved);
      onPaper(moved);
      data.pieces.forEach(stations);
      swap(rule.lead);
      toAddress();
    };
    /* Whether what is typed can be the size; what is wrong with it stands below its field. */
    /** @param {Size} size */
    const taken = (size) => {
      const at = field(size);
      let complaint = "";
      try {
        good[size.name] = arithmetic.sized(size, typed[size.name], rule.lead);
        wrong.delete(size.name);
      } catch (error) {
        if (!(error instanceof Fault)) throw error;
        wrong.add(size.name);
        complaint = (sentence(error.told) + " " + sentence(error.hint)).trim();
      }
      if (at) {
        const below = only("#own-" + size.name + "-wrong", document);
        if (text(below) !== complaint) show(below, complaint);
        at.setAttribute("aria-invalid", complaint ? "true" : "false");
      }
      return !complaint;
    };
    /* Whose numbers these are: said on every page of the piece, with the way to change them and the way back. */
    /** @param {boolean} moved */
    const whose = (moved) => {
      mark.hidden = !moved || mark.dataset.hbHere !== undefined;
      if (mark.hidden) return;
      const stops = verdicts().some((each) => each.level === "stop"), told = make("b"), change = make("a", "", tr("Change")), back = make("button", "", tr("As published"));
      show(told, data.sizes.filter((size) => worked.moved.has(size.name)).map((size) => size.says + " " + said(shown(good[size.name], size.kind, rule, size))).join("; "));
      change.href = mark.dataset.hbSizes ?? "";
      back.type = "button";
      back.addEventListener("click", () => {
        for (const size of data.sizes) typed[size.name] = size.text;
        later();
      });
      mark.replaceChildren(tr("Your sizes:") + " ", told, ". ", ...(stops ? [make("strong", "hb-word", words.levels.stop + ":"), " " + tr("it cannot be made or held at them.") + " "] : []), change, " ", back);
    };
    /** @param {string} name */
    const elsewhere = (name) => !worked.values.has(name) || worked.moved.has(name) || worked.stale.has(name);
    /** @param {string} group */
    const changed = (group) => Array.from(worked.values.keys()).some((name) => name.startsWith(group + ".") && (worked.moved.has(name) || worked.stale.has(name)));
    /* What does not follow says so where it stands, on the screen as on paper. */
    /** @type {(place: HTMLElement, yes: boolean, why: string) => void} */
    const stand = (place, yes, why) => {
      const there = place.querySelector(":scope > .hb-own__stale");
      const tag = place.tagName === "TABLE" ? "caption" : place.matches("dd, li") ? "span" : "p";
      if (yes && !there) place.append(make(tag, "hb-own__stale", tag === "span" ? " (" + why + ")" : why));
      if (!yes && there) there.remove();
    };
    /** @type {(name: string) => [printed: Printed | undefined, stale: boolean]} */
    const printed = (name) => {
      const blank = /^blank:(\d+):(\d+)$/.exec(name);
      if (!blank) return worked.values.has(name) ? [worked.prints.get(name), worked.stale.has(name)] : [undefined, false];
      const side = worked.blanks[Number(blank[1])][Number(blank[2])];
      return side ? [side.printed, side.stale] : [undefined, false];
    };
    /** @type {(told: Printed | undefined, as: string | undefined) => string} */
    const setAs = (told, as) => {
      if (!told) return as === "other" || as === "aside" ? "" : "–";
      if (as === "lead") return told.lead;
      if (as === "other") return told.other;
      if (as === "aside") return told.other && "(" + told.other + ")";
      return said(told);
    };
    const values = () => {
      for (const value of all("[data-of]")) {
        const { of = "", as } = value.dataset, [told, old] = printed(of), plain = setAs(told, as);
        const set = value.tagName === "TD" ? plain.replace(/\u00a0(?=[^\u00a0/]+\/[^\u00a0/]+$)/, " ") : plain;
        const mark = old && as !== "other" && as !== "aside";
        if (text(value) === set && !mark) continue;
        show(value, set);
        if (mark) value.append(make("span", "hb-hint hb-own__old", " " + tr("as published")));
      }
    };
    const bounds = () => {
      for (const place of all("[data-bounds]")) {
        const size = data.sizes.find((each) => each.name === place.dataset.bounds);
        if (!size) continue;
        /** @param {number | undefined} x */
        const told = (x) => x === undefined ? "" : shown(x, size.kind, rule, size).lead;
        const least = told(size.least), most = told(size.most);
        if (!least && !most) continue;
        const set = fill(words.bounds[least && most ? "both" : least ? "least" : "most"], { least, most });
        if (set !== text(place)) show(place, set);
      }
    };
    /* Every place on a profile where its diameter is told; two that print alike are told once, as on paper. */
    /** @param {Piece} piece */
    const stations = (piece) => {
      const table = piece.stations && document.querySelector("[data-stations=" + piece.name + "] tbody");
      if (!(table instanceof HTMLElement) || !piece.stations) return;
      /** @type {[what: string, at: Printed, across: Printed][]} */
      const rows = [];
      for (const [what, at, across, manner] of worked.failed.has(piece.name) ? [] : piece.stations) {
        /** @type {(name: string, how: Manner) => Printed} */
        const told = (name, how) => shown(worked.values.get(name) ?? NaN, "length", rule, how, worked.hole(how.below));
        const [first, second] = [told(at, {}), told(across, manner)], last = rows[rows.length - 1];
        const same = last && said(last[1]) === said(first) && said(last[2]) === said(second);
        rows.splice(same ? -1 : rows.length, 1, [what, first, second]);
      }
      const told = JSON.stringify(rows);
      if (told === table.dataset.told) return;
      table.dataset.told = told;
      /** @type {[what: string, ...sizes: Printed[]][]} */
      const listed = rows.length ? rows : [["–"]];
      table.replaceChildren(...listed.map(([what, ...sizes]) => {
        const head = make("th", "", what), row = make("tr", "", head);
        head.scope = "row";
        for (const size of sizes) {
          const lead = make("span", "hb-value"), other = make("span", "hb-other");
          show(lead, size.lead);
          show(other, "(" + size.other + ")");
          row.append(make("td", "", lead, " ", other));
        }
        return row;
      }));
    };
    const workings = () => {
      const known = new Set(data.pieces.flatMap((piece) => piece.dimensions.map((row) => row.name)));
      for (const place of all("[data-working]")) {
        const name = place.dataset.working ?? "", formula = only(".hb-formula", place);
        const how = worked.rows.has(name) ? arithmetic.working(worked, name, rule) : null;
        if (!how && !known.has(name)) continue;
        for (const line of all("[data-line]", formula)) line.remove();
        for (const told of how ? [how.numbers, how.result] : ["–"]) {
          if (!told) continue;
          const line = make("span");
          line.dataset.line = "";
          show(line, "= " + told);
          formula.append(" ", line);
        }
        show(only(".hb-rounding", place), how ? how.rounding : "");
      }
    };
    const units = () => {
      const { lead } = rule, other = lead === "in" ? "mm" : "in", list = control("own-rule"), chosen = control("own-unit");
      for (const head of all("[data-unit]")) head.textContent = words.units[head.dataset.unit === "lead" ? lead : other];
      if (!list || !chosen) return;
      chosen.value = lead;
      if (list.dataset.listed !== lead) {
        list.replaceChildren(...data.rules[lead].map((step) => {
          const option = make("option", "", (lead === "in" ? named(step).replace(/\/1$/, "") : String(step[0] / step[1])) + NB + lead);
          option.value = named(step);
          return option;
        }));
        list.dataset.listed = lead;
      }
      list.value = named(rule[lead]);
    };

    /* ---- What is found ---- */

    /** @typedef {PlainFinding & { told?: string, asked?: boolean }} Verdict */

    /** @param {Verdict} verdict */
    const box = (verdict) => {
      const told = make("span");
      show(told, ended(verdict.told || verdict.message) + (verdict.remedy ? " " + words.remedy + " " + ended(verdict.remedy) : ""));
      return make("p", "", make("strong", "hb-word", words.levels[verdict.level]), " ", ...(verdict.asked ? [] : [make("b", "", verdict.about + ":"), " "]), told);
    };
    /* The written sizes and the ready ones, and how far from them the chosen ones are. */
    const nearest = () => {
      const written = { says: "", findings: data.findings, values: /** @type {Record<string, number>} */ ({}) };
      /** @param {Record<string, number>} values */
      const away = (values) => data.sizes.reduce((sum, size) => sum + Math.abs(Math.log((worked.values.get(size.name) ?? NaN) / (values[size.name] ?? size.value))), 0);
      const [found] = [written, ...ready].sort((one, other) => away(one.values) - away(other.values));
      return { says: found.says, findings: found.findings, away: away(found.values) };
    };
    /* The author's own rules that do not hold come first: they say why. Then what cannot be worked out, then what is
       found, gravest first. */
    /** @returns {Verdict[]} */
    const verdicts = () => {
      const order = Object.keys(words.levels), found = worked.cautions.concat(worked.findings);
      const wrong = worked.problems.map((problem) => {
        const about = title(problem.at);
        return { level: "stop", about, message: problem.told.replace("“" + about + "”", tr("this")), remedy: problem.told.includes(problem.hint) ? "" : problem.hint };
      });
      const rest = found.filter((each) => !each.asked).sort((one, other) => order.indexOf(one.level) - order.indexOf(other.level));
      return [...found.filter((each) => each.asked), ...wrong, ...rest];
    };
    /** @param {boolean} moved */
    const findings = (moved) => {
      const near = nearest(), found = moved ? verdicts() : [], here = document.querySelector("[data-judged-here]");
      /* What is found at the sizes as written stands on the page already. */
      home?.findings.replaceChildren(...found.map((verdict) => make("li", "hb-box hb-box--" + verdict.level, box(verdict))));
      for (const place of all("[data-judged]")) place.remove();
      here?.after(...(moved ? found.map((verdict) => {
        const place = make("div", "hb-box hb-box--" + verdict.level, box(verdict));
        place.dataset.judged = "";
        return place;
      }) : judged));
      if (home) show(home.near, moved ? unworked(near) : home.near.dataset.ownNear ?? "");
    };
    /* What is not worked out at the sizes chosen, and what is known nearby. */
    /** @param {ReturnType<typeof nearest>} near */
    const unworked = (near) => {
      /** @param {PlainFinding[]} findings */
      const listed = (findings) => findings.map((each) => sentence(each.about + ": " + each.message)).join(" ");
      const rest = listed(near.findings.filter((each) => each.level !== "note")), accepted = listed(near.findings.filter((each) => each.accepted));
      const told = [
        rest ? fill(tr("It has warnings: {warnings}"), { warnings: rest }) : tr("It has no warnings."),
        ...(accepted ? [fill(tr("What its author accepts there: {accepted}"), { accepted })] : [])
      ].join(" ");
      return near.says && near.away < 1e-9
        ? fill(tr("These are the sizes of “{size}”, which are fully checked. Its papers have their pictures; the pictures on this page are marked “as published”."), { size: near.says }) + " " + told
        : tr("Pictures, speeds and strength checks are not worked out for your sizes; they are marked “as published”.") + " " +
          (near.says ? fill(tr("The nearest fully checked size is “{size}”."), { size: near.says }) : tr("The nearest fully checked size is the published one.")) + " " + told;
    };
    /** @param {string} at */
    const title = (at) => {
      const [name] = at.split("."), piece = data.pieces.find((each) => each.name === name), blank = data.blanks.find((each) => each.part === name);
      return (piece ? piece.title || piece.dimensions[0]?.says : blank?.title) || words.asked;
    };
    /** @type {(moved: boolean, left: Size[]) => void} */
    const tell = (moved, left) => {
      if (!home) return;
      const found = verdicts(), stops = found.filter((each) => each.level === "stop").length, none = worked.problems.length;
      const many = found.filter((each) => each.level !== "note" && each.level !== "stop").length, told = [];
      if (moved && stops) told.push(none ? tr("It cannot be made at these sizes.") : tr("It cannot be made or held at these sizes."), fill(stops === 1 ? tr("Here is why:") : tr("Here are the {count} reasons:"), { count: stops }));
      if (left.length) told.push(fill(tr("The numbers still go by {sizes}."), { sizes: left.map((size) => fill(tr("{value} for: {size}"), { value: said(shown(good[size.name], size.kind, rule, size)), size: size.says })).join("; ") }));
      else if (!moved) told.push(AS_WRITTEN);
      else if (!stops) told.push(tr("The dimensions, workings and steps follow your sizes."));
      if (moved && many && !stops) told.push(fill(tr("Things to mind: {count}."), { count: many }));
      const state = told.join(" "), word = moved && stops ? words.levels.stop + ":" : "";
      clearTimeout(timer);
      timer = setTimeout(() => {
        if (text(home.state) === (word && word + " ") + state) return;
        show(home.state, state);
        if (word) home.state.prepend(make("strong", "hb-word", word), " ");
      }, 400);
    };

    /* ---- What is done to it ---- */

    form?.addEventListener("submit", (event) => event.preventDefault());
    form?.addEventListener("input", (event) => {
      const at = /** @type {HTMLInputElement | HTMLSelectElement} */ (event.target), size = data.sizes.find((each) => at === field(each));
      if (size) typed[size.name] = at.value;
      else if (at.name === "own-unit" && isUnit(at.value)) keep("unit", rule.lead = at.value);
      else if (at.name === "own-rule") {
        rule[rule.lead] = data.rules[rule.lead].find((step) => named(step) === at.value) ?? rule[rule.lead];
        keep("rule." + rule.lead, at.value);
      }
      later();
    });
    form?.addEventListener("click", (event) => {
      const button = event.target instanceof Element ? event.target.closest("button") : null;
      if (!button) return;
      const { ownReady, ownPrint } = button.dataset;
      if (ownReady !== undefined) {
        const sizes = ownReady === "" ? {} : data.ready[Number(ownReady)].sizes;
        for (const size of data.sizes) {
          typed[size.name] = Object.hasOwn(sizes, size.name) ? sizes[size.name] : size.text;
          place(size);
        }
        later();
      }
      if (ownPrint === "sheet" || ownPrint === "cut") {
        follow();
        own.paper(ownPrint, { data, worked, rule, arithmetic, show, make, said: apart() });
      }
    });
    /* What a paper at these sizes says before its numbers, and what it says after them. */
    const apart = () => {
      const chosen = data.sizes.map((size) => size.says + " " + setAs(worked.prints.get(size.name), undefined)).join("; ");
      const lead = make("p");
      show(lead, fill(tr("Worked out for: {sizes}."), { sizes: chosen }));
      const found = verdicts(), stops = found.filter((each) => each.level === "stop"), rest = found.filter((each) => each.level !== "stop");
      const after = rest.map(box);
      if (isOwn()) {
        const near = make("p");
        show(near, unworked(nearest()));
        after.push(near);
      }
      return { before: [lead, ...stops.map(box)], after };
    };
    /* The whole page printed from the browser's own menu has no panel: its sizes stand here. */
    /** @param {boolean} moved */
    const onPaper = (moved) => {
      const told = moved ? apart() : { before: [], after: [] };
      document.querySelector("[data-own-told]")?.replaceChildren(...told.before, ...told.after);
    };
    window.addEventListener("hashchange", () => {
      if (fragment().sizes !== null && recalled()) later();
      else if (begun) toAddress();
    });

    const ready = data.ready.map((each) => ({
      says: each.says, findings: each.findings,
      values: Object.fromEntries(data.sizes.filter((size) => Object.hasOwn(each.sizes, size.name)).map((size) => [size.name, arithmetic.sized(size, each.sizes[size.name], "in")]))
    }));
    const same = rule.lead === data.rule.lead && UNITS.every((each) => named(rule[each]) === named(data.rule[each]));
    data.sizes.forEach(place);
    /* The page as published is painted first: only a second frame comes after one that was shown. */
    if (recalled() || !same) {
      asked = true;
      requestAnimationFrame(() => requestAnimationFrame(caughtUp));
    }
  };

  if (window.document$) window.document$.subscribe(start);
  else start();
})();
