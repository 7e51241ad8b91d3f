/* Several facets at once: which pieces have all that is ticked, how many would be left, and their cards. What is
   ticked stands in the address. The lists are the page's own; without this script each line leads to a page. */
(() => {
  "use strict";

  const SHOWN = 24;
  /* Stands in a card's words for the way to the piece's own folder. */
  const AT = "\ue000";

  /** @type {Find.Told | null} */
  let told = null;
  /** @type {Map<string, string>} */
  const cards = new Map();
  /** @type {Map<string, Set<number>>} */
  const ticked = new Map();
  let most = SHOWN;
  const wide = window.matchMedia("(min-width: 60em)");

  const home = () => /** @type {HTMLElement | null} */ (document.querySelector("[data-hb-find]"));
  /** @type {(src: string) => void} */
  const load = (src) => {
    const script = document.createElement("script");
    script.src = new URL(src, document.baseURI).href;
    document.head.append(script);
  };
  /** @type {<K extends keyof HTMLElementTagNameMap>(tag: K, kind: string, text?: string) => HTMLElementTagNameMap[K]} */
  const made = (tag, kind, text = "") => {
    const element = document.createElement(tag);
    if (kind) element.className = kind;
    element.textContent = text;
    return element;
  };
  /* A card's words are the page's own, made by the templates that make every card; they are parsed apart from the page. */
  /** @type {(whole: Element, words: string, at: string) => void} */
  const fill = (whole, words, at) => {
    whole.append(...new DOMParser().parseFromString(words.replaceAll(AT, at), "text/html").body.childNodes);
  };
  /** @type {(count: number) => string} */
  const pieces = (count) => (count === 1 ? tr("1 piece") : tr("{count} pieces")).replace("{count}", String(count));

  /* Of a facet that a piece has one value of, any that is ticked will do; of the others it must have all. */
  /** @type {(piece: Find.Piece, but?: string) => boolean} */
  const fits = (piece, but) => told !== null && told.facets.every((facet, at) => {
    const wanted = facet.name === but ? undefined : ticked.get(facet.name);
    if (!wanted || wanted.size === 0) return true;
    const has = /** @type {(value: number) => boolean} */ (value => piece[2][at].includes(value));
    return facet.several ? [...wanted].every(has) : [...wanted].some(has);
  });

  const fromAddress = () => {
    ticked.clear();
    const asked = new URLSearchParams(location.hash.slice(1));
    for (const facet of told?.facets ?? []) {
      const slugs = asked.getAll(facet.name);
      const places = slugs.map(slug => facet.values.findIndex(value => value[0] === slug)).filter(place => place >= 0);
      ticked.set(facet.name, new Set(places));
    }
  };
  const toAddress = () => {
    const said = new URLSearchParams();
    for (const facet of told?.facets ?? [])
      for (const place of ticked.get(facet.name) ?? []) said.append(facet.name, facet.values[place][0]);
    const text = said.toString();
    history.replaceState(null, "", text ? "#" + text : location.pathname + location.search);
  };

  /** @type {(name: string, title: string, box: HTMLElement) => HTMLElement} */
  const card = (name, title, box) => {
    const at = box.dataset.hbAt ?? "", ending = box.dataset.hbEnding ?? "/";
    const whole = made("div", "hb-card"), heading = made("h2", ""), link = made("a", "", title);
    link.href = at + "projects/" + name + ending;
    if (location.protocol === "file:" && ending === "/") link.href += "index.html";
    heading.append(link);
    whole.dataset.name = name;
    whole.append(heading);
    const words = cards.get(name);
    if (words === undefined) load(at + "projects/" + name + "/" + name + "-card.js");
    else fill(whole, words, at + "projects/" + name + "/");
    return whole;
  };

  /* How many pieces there would be with a value ticked. */
  /** @type {(facet: Find.Facet, at: number, place: number) => number} */
  const count = (facet, at, place) => (told?.pieces ?? []).filter(
    piece => piece[2][at].includes(place) && fits(piece, facet.several ? undefined : facet.name)).length;

  const show = () => {
    const box = home();
    if (!box || !told) return;
    const found = told.pieces.filter(piece => fits(piece));
    const any = [...ticked.values()].some(places => places.size > 0);
    for (const input of /** @type {NodeListOf<HTMLInputElement>} */ (box.querySelectorAll("input[data-place]"))) {
      const at = told.facets.findIndex(facet => facet.name === input.name), facet = told.facets[at];
      const place = Number(input.dataset.place), there = count(facet, at, place);
      input.checked = ticked.get(facet.name)?.has(place) ?? false;
      const label = input.parentElement, number = label?.querySelector("span"), line = label?.parentElement;
      if (number) number.textContent = String(there);
      if (line) line.hidden = there === 0 && !input.checked;
    }
    for (const group of box.querySelectorAll(".hb-facet")) {
      const left = [...group.querySelectorAll("li")].some(line => !line.hidden);
      if (group instanceof HTMLElement) group.hidden = !left;
    }
    const list = made("div", "hb-cards hb-cards--small");
    list.append(...found.slice(0, most).map(([name, title]) => card(name, title, box)));
    const said = /** @type {HTMLElement} */ (box.querySelector(".hb-find__count"));
    said.textContent = any ? tr("{pieces} with all of that").replace("{pieces}", pieces(found.length)) : pieces(found.length);
    box.querySelector(".hb-find__list")?.replaceChildren(list);
    /** @type {HTMLElement} */ (box.querySelector(".hb-find__clear")).hidden = !any;
    /** @type {HTMLElement} */ (box.querySelector(".hb-find__more")).hidden = found.length <= most;
  };

  /* Each line of a list becomes a box to tick, with its number. */
  /** @type {(box: HTMLElement) => void} */
  const ready = (box) => {
    if (box.hasAttribute("data-ready")) return;
    box.setAttribute("data-ready", "");
    for (const group of /** @type {NodeListOf<HTMLElement>} */ (box.querySelectorAll(".hb-facet"))) {
      const facet = told?.facets.find(known => known.name === group.dataset.facet), heading = group.querySelector("h2");
      if (!facet || !heading) continue;
      /* Where there is little room a facet opens when it is asked for, so that the pieces stay in sight. */
      const fold = made("details", ""), summary = made("summary", "");
      fold.open = wide.matches || (ticked.get(facet.name)?.size ?? 0) > 0;
      summary.append(heading);
      fold.append(summary, ...group.childNodes);
      group.append(fold);
      group.setAttribute("role", "group");
      group.setAttribute("aria-labelledby", heading.id);
      for (const line of group.querySelectorAll("li")) {
        const link = line.querySelector("a"), place = facet.values.findIndex(value => value[1] === link?.textContent);
        if (!link || place < 0) continue;
        const label = made("label", ""), input = made("input", "");
        input.type = "checkbox";
        input.name = facet.name;
        input.dataset.place = String(place);
        input.addEventListener("change", () => {
          const places = ticked.get(facet.name) ?? new Set();
          if (input.checked) places.add(place); else places.delete(place);
          ticked.set(facet.name, places);
          most = SHOWN;
          toAddress();
          show();
        });
        label.append(input, made("b", "", facet.values[place][1]), made("span", ""));
        line.replaceChildren(label);
      }
    }
    const found = /** @type {HTMLElement} */ (box.querySelector(".hb-find__found"));
    const said = made("p", "hb-find__count"), clear = made("button", "hb-find__clear", tr("Untick all"));
    const more = made("button", "hb-find__more", tr("Show more"));
    said.setAttribute("role", "status");
    clear.type = more.type = "button";
    clear.addEventListener("click", () => { ticked.clear(); most = SHOWN; toAddress(); show(); });
    more.addEventListener("click", () => { most += SHOWN; show(); });
    const bar = made("div", "hb-find__bar");
    bar.append(said, clear);
    found.replaceChildren(bar, made("div", "hb-find__list"), more);
    for (const how of document.querySelectorAll(".hb-find__how")) how.removeAttribute("hidden");
  };

  window.handoutsFind = {
    receive: (payload) => {
      told = payload;
      const box = home();
      if (!box) return;
      fromAddress();
      ready(box);
      show();
    },
    card: ([name, words]) => {
      cards.set(name, words);
      const box = home(), at = box?.dataset.hbAt ?? "";
      for (const waiting of box?.querySelectorAll(".hb-card") ?? [])
        if (waiting instanceof HTMLElement && waiting.dataset.name === name && waiting.childElementCount === 1)
          fill(waiting, words, at + "projects/" + name + "/");
    },
  };

  window.addEventListener("hashchange", () => { if (home()) { fromAddress(); show(); } });
  const start = () => {
    const box = home();
    if (!box || box.hasAttribute("data-ready")) return;
    if (told) { fromAddress(); ready(box); show(); } else load(box.dataset.hbFind ?? "");
  };
  if (window.document$) window.document$.subscribe(start);
  else start();
})();
