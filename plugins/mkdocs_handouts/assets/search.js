/* Answers the theme's search in its worker: loads the parts of the index that a query needs, and no more. The theme
   sends how to begin and what is typed, and takes lists of sections; the numbers of its messages are its own. */
(() => {
  "use strict";

  const SETUP = 0, READY = 1, QUERY = 2, RESULT = 3;
  const GROUPS = 10, IN_A_GROUP = 6, LONGER = 16;
  const scope = /** @type {any} */ (self);
  /** @type {HTMLScriptElement | null} On a disk this runs in a frame, whose own address says nothing. */
  const frame = typeof document === "undefined" ? null : document.querySelector("script[src]");
  const here = frame ? frame.src : location.href;
  const top = new URL("../../../", new URL(".", here));
  const home = new URL("search/", top);

  /** @type {any} */
  let start = null;
  /** @type {Map<string, Map<number, number>>} */
  const having = new Map();
  /** @type {Map<number, [string, string, string, number, string?]>} */
  const shown = new Map();
  /** @type {Map<string, Record<string, number>>} */
  const words = new Map();
  /** @type {Map<string, Promise<void>>} */
  const asked = new Map();

  scope.handoutsSearch = {
    start: (/** @type {any} */ told) => { start = told; },
    terms: (/** @type {Record<string, string>} */ told) => {
      for (const [name, packed] of Object.entries(told)) {
        const bytes = atob(packed), found = new Map();
        let at = 0, last = 0;
        while (at < bytes.length) {
          let step = 0, shift = 0, byte;
          do {
            byte = bytes.charCodeAt(at++);
            step += (byte & 127) * 2 ** shift;
            shift += 7;
          } while (byte & 128);
          last += step;
          found.set(last, bytes.charCodeAt(at++));
        }
        having.set(name, found);
      }
    },
    shown: (/** @type {[number, [string, string, string, number, string?][]]} */ [first, told]) => {
      told.forEach((section, index) => shown.set(first + index, section));
    },
    words: (/** @type {[string, Record<string, number>]} */ [letter, told]) => { words.set(letter, told); },
  };

  /** @type {(name: string) => Promise<void>} */
  const load = (name) => {
    const found = asked.get(name) ?? (async () => { await scope.importScripts(new URL(name + ".js", home).href); })();
    asked.set(name, found);
    return found;
  };

  /* ---- Words as terms: the same as `outputs/search_words.py` does ---- */

  /** @type {(word: string) => string} */
  const term = (word) => {
    let made = word;
    if (made.length > 3)
      for (const [pattern, right] of start.endings) {
        const shorter = made.replace(new RegExp(pattern), right);
        if (shorter.length > 2) made = shorter;
      }
    return start.same[made] ?? made;
  };
  const TOKEN = /(\d+)[ \u00a0-](\d+)\/([1-9]\d*)|(\d+)\/([1-9]\d*)|(\d+(?:\.\d+)?)|(\p{L}+)/gu;
  const UNIT = /^[ \u00a0-]?([a-z]+)(?![a-z])|^[ \u00a0]?(″|′′|"|°)/;

  /* What is typed: each with how it is written, for a word may be longer than what is typed of it. */
  /** @type {(text: string) => {is: string, typed: string, number: boolean}[]} */
  const typed = (text) => {
    const plain = text.toLowerCase().normalize("NFKD").replaceAll("\u2044", "/").replace(/\p{M}/gu, "");
    const made = [];
    let after = 0;
    for (const found of plain.matchAll(TOKEN)) {
      if (found.index < after) continue;
      if (found[7]) {
        if (!start.stop.includes(found[7])) made.push({ is: term(found[7]), typed: found[7], number: false });
        continue;
      }
      const value = found[1] ? Number(found[1]) + Number(found[2]) / Number(found[3])
        : found[4] ? Number(found[4]) / Number(found[5]) : Number(found[6]);
      const rest = found.index + found[0].length, unit = UNIT.exec(plain.slice(rest));
      const called = !unit ? "" : unit[2] ? unit[2] === "°" ? "deg" : "in" : start.units[unit[1]] ?? "";
      if (unit && called) after = rest + unit[0].length;
      made.push({ is: String(Number(value.toFixed(4))) + called, typed: found[0], number: true });
    }
    return made;
  };

  /* ---- What has a term ---- */

  /** @type {(name: string) => number} The last shard that begins no later than a name. */
  const shardOf = (name) => {
    let low = 0, high = start.shards.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (start.shards[middle] <= name) low = middle; else high = middle - 1;
    }
    return low;
  };
  /** @type {(name: string) => Promise<Map<number, number> | undefined>} */
  const sectionsOf = async (name) => {
    if (start.shards.length === 0) return undefined;
    await load("terms-" + shardOf(name));
    return having.get(name);
  };

  /** @type {(left: string, right: string, most: number) => number} Letters to change, leave out, put in or swap. */
  const apart = (left, right, most) => {
    if (Math.abs(left.length - right.length) > most) return most + 1;
    /** @type {number[]} */
    let above = [];
    let before = Array.from({ length: right.length + 1 }, (_, at) => at);
    for (let row = 1; row <= left.length; row++) {
      const now = [row];
      for (let at = 1; at <= right.length; at++) {
        const same = left[row - 1] === right[at - 1] ? 0 : 1;
        now[at] = Math.min(before[at] + 1, now[at - 1] + 1, before[at - 1] + same);
        if (row > 1 && at > 1 && left[row - 1] === right[at - 2] && left[row - 2] === right[at - 1])
          now[at] = Math.min(now[at], above[at - 2] + 1);
      }
      [above, before] = [before, now];
    }
    return before[right.length];
  };
  /** @type {(name: string) => Promise<string[]>} The words nearest to one that is nowhere. */
  const nearest = async (name) => {
    const most = name.length > 6 ? 2 : name.length > 3 ? 1 : 0;
    /** @type {[number, number, string][]} */
    const found = [];
    for (const letter of new Set([name[0], name[1]])) {
      if (most === 0 || !start.letters.includes(letter)) continue;
      await load("words-" + letter);
      for (const [word, count] of Object.entries(words.get(letter) ?? {})) {
        const far = apart(name, word, most);
        if (far <= most) found.push([far, -count, word]);
      }
      if (found.length) break;
    }
    found.sort((left, right) => left[0] - right[0] || left[1] - right[1]);
    return found.filter(([far]) => far === found[0][0]).slice(0, 2).map(([, , word]) => word);
  };
  /** @type {(name: string, beginning: string) => Promise<string[]>} The words that begin so. */
  const longer = async (name, beginning) => {
    const letter = name[0];
    if (!start.letters.includes(letter)) return [];
    await load("words-" + letter);
    return Object.entries(words.get(letter) ?? {})
      .filter(([word]) => word !== name && (word.startsWith(beginning) || word.startsWith(name)))
      .sort((left, right) => right[1] - left[1]).slice(0, LONGER).map(([word]) => word);
  };

  /* The sections of one typed term, with what it is worth in each. */
  /** @type {(wanted: {is: string, typed: string, number: boolean}, last: boolean) => Promise<Map<number, number>>} */
  const worth = async (wanted, last) => {
    const total = new Map();
    /** @type {(name: string, part: number) => Promise<void>} */
    const add = async (name, part) => {
      const found = await sectionsOf(name);
      if (!found) return;
      const rare = Math.log(1 + start.count / found.size);
      for (const [section, weight] of found)
        total.set(section, Math.max(total.get(section) ?? 0, part * rare * weight / start.steps));
    };
    await add(wanted.is, 1);
    for (const other of start.means[wanted.is] ?? []) await add(other, 0.7);
    if (wanted.number) return total;
    if (total.size === 0 || last && wanted.typed.length > 1)
      for (const name of await longer(wanted.is, wanted.typed)) await add(name, total.size ? 0.5 : 0.8);
    if (total.size === 0) for (const name of await nearest(wanted.is)) await add(name, 0.8);
    return total;
  };

  /** @type {(text: string) => Promise<any[]>} */
  const search = async (text) => {
    const wanted = typed(text);
    if (wanted.length === 0) return [];
    /** @type {Awaited<ReturnType<typeof worth>>[]} */
    const found = [];
    for (const [at, one] of wanted.entries()) found.push(await worth(one, at === wanted.length - 1));
    /** @type {Map<number, [number, number]>} */
    const scores = new Map();
    for (const sections of found)
      for (const [section, value] of sections) {
        const [score, count] = scores.get(section) ?? [0, 0];
        scores.set(section, [score + value, count + 1]);
      }
    /* A section that has all that is asked goes before one that has more of half of it. */
    const ranked = [...scores].map(([section, [score, count]]) =>
      /** @type {[number, number]} */ ([section, score * (count / wanted.length) ** 3])).sort((left, right) => right[1] - left[1] || left[0] - right[0]);
    const best = ranked.length ? ranked[0][1] : 0;
    const enough = ranked.filter(([, score]) => score > best / 8);
    /** @type {Map<number, [number, number][]>} By the page's own section. */
    const groups = new Map();
    for (const [section, score] of enough) {
      if (!shown.has(section)) {
        if (groups.size >= GROUPS) continue;
        let chunk = start.chunks.length - 1;
        while (chunk > 0 && start.chunks[chunk] > section) chunk--;
        await load("shown-" + chunk);
      }
      const page = /** @type {[string, string, string, number]} */ (shown.get(section))[3];
      const group = groups.get(page) ?? [];
      if (groups.size >= GROUPS && group.length === 0) continue;
      if (group.length < IN_A_GROUP) group.push([section, score]);
      groups.set(page, group);
    }
    const terms = Object.fromEntries(wanted.map((one, at) => [one.typed, found[at].size > 0]));
    return [...groups].map(([page, sections]) => {
      const hits = sections.map(([section, score]) => told(section, score, terms));
      return sections.some(([section]) => section === page) ? hits : [...hits, told(page, 0, {})];
    });
  };
  /** @type {(section: number, score: number, terms: Record<string, boolean>) => object} */
  const told = (section, score, terms) => {
    const [place, title, text, , picture] = /** @type {[string, string, string, number, string?]} */ (shown.get(section));
    /* What it is called stands beside it: for those who cannot see it there is nothing to say. */
    const seen = picture
      ? '<img class="hb-hit" src="' + escaped(new URL(picture, top).href) + '" alt="" loading="lazy" decoding="async">'
      : "";
    return { location: place, title: seen + escaped(title), text: escaped(text), score, terms };
  };
  /** @type {(text: string) => string} The theme takes HTML. */
  const escaped = (text) => text.replace(/[&<>"]/g, sign => "&#" + sign.charCodeAt(0) + ";");

  let turn = 0;
  addEventListener("message", async (event) => {
    const { type, data } = event.data;
    if (type === SETUP) {
      await load("start");
      scope.postMessage({ type: READY });
    } else if (type === QUERY) {
      const mine = ++turn;
      const items = await search(data);
      /* What was typed since is answered instead. */
      if (mine === turn) scope.postMessage({ type: RESULT, data: { items } });
    }
  });
})();
