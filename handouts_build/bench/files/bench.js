/* The bench's page: shows what the machine has seen of a project, and looks again at every save.
   It owns the page and nothing of the project; the solids are drawn by solid.js. Author text is only ever set as text. */
(() => {
  "use strict";

  const { unpacked, Painter, Camera, colors, steered } = window.HandoutsSolid;
  const LEVELS = { problem: "Problem", stop: "Stop", mind: "Mind", note: "Note" };
  const NEAR = 1.25;
  const SVG = "http://www.w3.org/2000/svg";

  /** @type {<Kind extends HTMLElement = HTMLElement>(id: string) => Kind} */
  const place = (id) => /** @type {any} */ (document.getElementById(id));
  const { body } = document;

  /** @type {(tag: string, kind?: string, words?: string) => HTMLElement} */
  const make = (tag, kind = "", words = "") => {
    const made = document.createElement(tag);
    if (kind) made.className = kind;
    if (words) made.textContent = words;
    return made;
  };
  /** @type {(words: string, into: HTMLElement) => HTMLElement} Text with its shop fractions set as such. */
  const set = (words, into) => {
    for (const part of words.split(/(\b\d+\/\d+\b)/)) into.append(/^\d+\/\d+$/.test(part) ? make("span", "hb-frac", part) : part);
    return into;
  };

  /** @type {Bench.Seen | null} */
  let seen = null;
  /** @type {number} The step that was chosen; nought follows what is changed. */
  let chosen = 0;
  let project = new URLSearchParams(location.search).get("project") || "";
  let asked = 0;

  /* ---- The wood ---- */

  /** @type {Solid.Camera | null} */
  let camera = null;
  /** @type {Solid.Look | null} */
  let look = null;
  let pending = false;
  const takes = /** @type {HTMLInputElement} */ (place("takes"));
  const follow = /** @type {HTMLInputElement} */ (place("follow"));

  const stands = ["before", "after"].map((id) => {
    const canvas = /** @type {HTMLCanvasElement} */ (/** @type {unknown} */ (place(id)));
    const gl = canvas.getContext("webgl", { antialias: true, alpha: true, premultipliedAlpha: false });
    return { canvas, painter: gl ? new Painter(gl, []) : null };
  });

  const draw = () => {
    pending = false;
    if (!camera || !seen || !seen.solid) return;
    look ??= colors(place("probe"));
    stands.forEach(({ canvas, painter }, number) => {
      if (!painter || !painter.stages.length) return;
      const dense = Math.min(window.devicePixelRatio || 1, 2);
      const wide = Math.max(1, Math.round(canvas.clientWidth * dense)), tall = Math.max(1, Math.round(canvas.clientHeight * dense));
      if (canvas.width !== wide || canvas.height !== tall) {
        canvas.width = wide;
        canvas.height = tall;
      }
      const view = /** @type {NonNullable<typeof camera>} */ (camera).view(wide, tall, dense);
      painter.draw(number, view, /** @type {Solid.Look} */ (look), number === 1 && takes.checked && seen?.solid?.changed === true);
      if (number === 1) measure(view, canvas.clientWidth, canvas.clientHeight);
    });
  };
  const ask = () => {
    if (!pending) requestAnimationFrame(draw);
    pending = true;
  };

  /** @type {(kind: string, values: Record<string, string | number>) => SVGElement} */
  const drawn = (kind, values) => {
    const made = document.createElementNS(SVG, kind);
    for (const [name, value] of Object.entries(values)) made.setAttribute(name, String(value));
    return made;
  };

  /** @typedef {[x: number, y: number]} Spot */
  /** @type {(view: Solid.View, wide: number, tall: number) => void} The dimensions of the step's cuts, over the wood as it is turned. */
  const measure = (view, wide, tall) => {
    const sheet = place("dimensions"), solid = seen?.solid, { turn, mid, size } = view;
    sheet.replaceChildren();
    if (!solid) return;
    sheet.setAttribute("viewBox", "0 0 " + wide + " " + tall);
    /** @type {(way: Solid.Point) => Solid.Point} */
    const turned = (way) => /** @type {Solid.Point} */ ([0, 1, 2].map((row) => turn[row] * way[0] + turn[3 + row] * way[1] + turn[6 + row] * way[2]));
    /** @type {(spot: Solid.Point, off: Solid.Point, far: number) => Spot} A point of the wood, and so far off it, in the picture. */
    const at = (spot, off, far) => {
      const [x, y] = turned(/** @type {Solid.Point} */ (spot.map((each, axis) => each + far * off[axis] - mid[axis])));
      return [(x * size[0] + 1) * wide / 2, (1 - y * size[1]) * tall / 2];
    };
    /** @type {(axis: Solid.Point) => Solid.Point} Square to an axis and to the eye: there a round shows its full width. */
    const aside = (axis) => {
      const eye = [turn[2], turn[5], turn[8]];
      const found = [axis[1] * eye[2] - axis[2] * eye[1], axis[2] * eye[0] - axis[0] * eye[2], axis[0] * eye[1] - axis[1] * eye[0]];
      const long = Math.hypot(found[0], found[1], found[2]);
      const way = long > 1e-3 ? found.map((each) => each / long) : [turn[1], turn[4], turn[7]];
      return /** @type {Solid.Point} */ (way);
    };
    /** @type {(from: Spot, to: Spot) => void} A tip at the end of a line. */
    const tip = (from, to) => {
      const x = to[0] - from[0], y = to[1] - from[1], long = Math.hypot(x, y) || 1, u = x / long, v = y / long;
      sheet.append(drawn("path", { d: "M" + to + "L" + [to[0] - 8 * u + 2.6 * v, to[1] - 8 * v - 2.6 * u] + "L" + [to[0] - 8 * u - 2.6 * v, to[1] - 8 * v + 2.6 * u] + "Z" }));
    };
    /** @type {(from: Spot, to: Spot, kind?: string) => void} */
    const line = (from, to, kind = "") => {
      sheet.append(drawn("line", { x1: from[0], y1: from[1], x2: to[0], y2: to[1], ...(kind ? { class: kind } : {}) }));
    };
    /** @type {{ left: number, top: number, right: number, bottom: number }[]} */
    const taken = [];
    /** @type {(spot: Spot, way: Spot, told: Bench.Dimension) => void} Lettering, moved out until nothing of it lies on other lettering. */
    const letter = (spot, way, told) => {
      const words = drawn("text", { x: 0, y: 0, "text-anchor": "middle" }), other = drawn("tspan", { dx: 4 });
      words.textContent = (told.kind === "across" ? "⌀ " : "") + told.lead;
      other.textContent = told.other ? "(" + told.other + ")" : "";
      words.append(other);
      sheet.append(words);
      const half = /** @type {SVGTextElement} */ (words).getComputedTextLength() / 2 + 3;
      let [x, y] = spot;
      for (let tries = 0; tries < 12; tries++) {
        x = Math.max(half, Math.min(wide - half, x));
        y = Math.max(13, Math.min(tall - 5, y));
        const box = { left: x - half, right: x + half, top: y - 13, bottom: y + 4 };
        if (!taken.some((other) => box.left < other.right && box.right > other.left && box.top < other.bottom && box.bottom > other.top)) {
          taken.push(box);
          break;
        }
        x += 6 * way[0];
        y += 6 * way[1] + (way[1] >= 0 ? 9 : -9);
      }
      words.setAttribute("x", String(x));
      words.setAttribute("y", String(y));
      line(spot, [x, y - 4], "bench-thin");
      sheet.append(words);
    };
    let level = 0;
    const room = 0.05 / Math.max(size[0], size[1]);
    for (const told of solid.dimensions) {
      const way = aside(told.axis);
      if (told.kind === "across") {
        const from = at(told.start, way, told.radius), to = at(told.start, way, -told.radius);
        if (Math.hypot(from[0] - to[0], from[1] - to[1]) < 6) continue;
        line(from, to);
        tip(to, from);
        tip(from, to);
        const out = from[1] < to[1] ? from : to, back = out === from ? to : from;
        const long = Math.hypot(out[0] - back[0], out[1] - back[1]) || 1, u = (out[0] - back[0]) / long, v = (out[1] - back[1]) / long;
        letter([out[0] + 12 * u, out[1] + 12 * v - 2], [u, v], told);
      } else {
        level++;
        const far = told.radius + room * (0.7 + 0.9 * level);
        const low = at(told.start, way, 0)[1] < at(told.start, way, 1)[1] ? 1 : -1;
        const from = at(told.start, way, low * far), to = at(told.end, way, low * far);
        if (Math.hypot(from[0] - to[0], from[1] - to[1]) < 4) continue;
        line(at(told.start, way, low * told.radius), from, "bench-thin");
        line(at(told.end, way, low * told.radius), to, "bench-thin");
        line(from, to);
        tip(to, from);
        tip(from, to);
        letter([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2 + 13], [0, 1], told);
      }
    }
  };

  /** @type {(solid: Bench.Wood, fresh: boolean) => Promise<void>} */
  const stand = async (solid, fresh) => {
    const piece = await unpacked(solid.packed), now = new Camera(piece);
    if (camera && !fresh) {
      now.yaw = camera.yaw;
      now.tilt = camera.tilt;
      now.zoom = camera.zoom;
    } else now.zoom = NEAR;
    if (camera) Object.assign(camera, now);
    else {
      camera = now;
      camera.reset = () => { now.yaw = now.tilt = 0; now.zoom = NEAR; };
      camera.reset();
      for (const { canvas } of stands) steered(canvas, camera, ask, []);
    }
    for (const { canvas, painter } of stands) {
      painter?.give(piece.stages);
      canvas.setAttribute("aria-label", piece.title + ", " + (canvas.id === "before" ? "before" : "after") + " the step, in 3D");
    }
    /* At once: the frame that shows the words shows the wood too. */
    draw();
  };

  /* ---- Words ---- */

  /** @type {(note: Bench.Note, whole: boolean) => HTMLElement} */
  const noted = (note, whole) => {
    const made = make("div", "bench-note"), said = make("p");
    made.dataset.level = note.level;
    said.append(make("b", "", LEVELS[note.level]));
    set((whole && note.about ? note.about + ": " : "") + note.message, said);
    if (whole) made.append(make("p", "bench-remedy", note.place));
    made.append(said);
    if (note.remedy) made.append(set(note.remedy, make("p", "bench-remedy")));
    for (const change of note.changes) {
      const rows = make("pre", "bench-change");
      rows.setAttribute("aria-label", "What that would change, at line " + change.line);
      for (const row of change.old) rows.append(make("del", "", row));
      for (const row of change.new) rows.append(make("ins", "", row));
      made.append(rows);
    }
    return made;
  };

  /** @type {(lines: string[]) => boolean[]} Which lines are of a text in lines of its own, where nothing is a key. */
  const proseOf = (lines) => {
    let deep = -1;
    return lines.map((text) => {
      const indent = text.search(/[^ ]/);
      if (deep >= 0 && (indent < 0 || indent > deep)) return true;
      deep = /(?:^|\s)[|>][-+]?\s*(?:#.*)?$/.test(text) ? indent : -1;
      return false;
    });
  };

  /** @type {(text: string, into: HTMLElement) => void} A line with its key and its remark told apart. */
  const colored = (text, into) => {
    const remark = /(^|\s)#.*$/.exec(text), code = remark ? text.slice(0, remark.index) : text;
    const key = /^(\s*(?:- )?)([a-z][\w ]*)(?=:(?:\s|$))/.exec(code);
    if (key) into.append(key[1], make("span", "bench-key", key[2]), code.slice(key[0].length));
    else into.append(code);
    if (remark) into.append(make("span", "bench-remark", text.slice(remark.index)));
    if (!text) into.append("\u200b");
  };

  /** @param {Bench.Seen} now */
  const showFile = (now) => {
    const lines = place("lines"), here = now.step ? now.steps.find((step) => step.number === now.step?.number) : undefined;
    place("file-name").textContent = now.file;
    const prose = proseOf(now.lines);
    const rows = now.lines.map((text, index) => {
      const row = make("li"), number = index + 1, step = now.steps.find((known) => known.first <= number && number <= known.last);
      row.dataset.line = String(number);
      if (step) row.dataset.step = String(step.number);
      if (here && here.first <= number && number <= here.last) row.dataset.here = "";
      if (number === now.changed) row.dataset.changed = "";
      row.style.setProperty("--bench-in", String(/^[\s-]*/.exec(text)?.[0].length ?? 0));
      if (prose[index] && text) row.append(text);
      else colored(text, row);
      for (const note of now.notes.filter((found) => found.line === number)) row.append(noted(note, false));
      return row;
    });
    lines.replaceChildren(...rows);
    place("elsewhere").replaceChildren(...now.notes.filter((note) => !note.line || note.line > rows.length).map((note) => noted(note, true)));
  };

  /** @type {(line: number) => void} Brings a line into view, if it is not. */
  const bring = (line) => {
    const row = place("lines").children[line - 1], file = place("file");
    if (!row) return;
    const top = row.getBoundingClientRect().top - file.getBoundingClientRect().top;
    if (top < 40 || top > file.clientHeight - 80) file.scrollTop += top - file.clientHeight / 3;
  };

  /** @param {Bench.Seen} now */
  const showSteps = (now) => {
    let part = "";
    place("walk").hidden = !now.steps.length;
    place("steps").replaceChildren(...now.steps.map((step) => {
      const entry = make("li"), button = make("button", "", String(step.number));
      if (step.part !== part) entry.dataset.part = part = step.part;
      button.setAttribute("type", "button");
      button.title = step.name;
      button.setAttribute("aria-label", "Step " + step.number + ", " + step.name);
      if (step.number === now.step?.number) button.setAttribute("aria-current", "step");
      if (now.notes.some((note) => note.step === step.number && note.level !== "note")) button.dataset.level = "mind";
      button.addEventListener("click", () => choose(step.number));
      entry.append(button);
      return entry;
    }));
  };

  /** @param {Bench.Seen} now */
  const showStep = (now) => {
    const { step, solid } = now, name = place("step-name"), how = place("how"), none = place("none");
    name.replaceChildren();
    how.replaceChildren();
    if (step) {
      name.append(make("b", "", String(step.number)), step.name);
      for (const words of [step.part, step.hold, step.speed || (step.limit && "never faster than " + step.limit)]) if (words) how.append(set(words, make("span")));
    }
    place("solids").hidden = place("turning").hidden = !solid;
    none.hidden = Boolean(solid);
    none.textContent = now.refused || (step ? "This step's part has no cuts: there is no wood to show." : now.broken ? "" : "A write-up of words has no steps.");
    if (!none.textContent) none.hidden = true;
    const cuts = place("cuts");
    cuts.replaceChildren();
    if (solid && solid.cuts.length) {
      const table = make("table", "bench-cuts"), rows = make("tbody");
      cuts.append(make("h3", "", solid.cuts.length > 1 ? "Its cuts" : "Its cut"), table);
      table.append(rows);
      for (const cut of solid.cuts) {
        const row = make("tr"), head = make("th", "", cut.word), told = make("td");
        head.setAttribute("scope", "row");
        if (cut.name !== cut.word) head.append(make("span", "hb-hint", " " + cut.name));
        cut.keys.forEach((key, index) => {
          if (index) told.append(" · ");
          told.append(make("span", "hb-hint", key.word + " "));
          set(key.lead, told);
          if (key.other) set(" (" + key.other + ")", told.appendChild(make("span", "hb-hint")));
        });
        row.append(head, told);
        rows.append(row);
      }
    }
    const found = place("found"), notes = now.notes.filter((note) => step && note.step === step.number);
    found.replaceChildren();
    if (notes.length && !now.broken) found.append(make("h3", "", "Found at this step"), ...notes.map((note) => noted(note, false)));
    const after = place("wood");
    after.replaceChildren();
    if (step && step.facts.length) {
      const table = make("table", "bench-cuts"), rows = make("tbody");
      table.append(rows);
      for (const fact of step.facts) {
        const row = make("tr"), head = make("th", "", fact.says), told = set(fact.printed, make("td"));
        head.setAttribute("scope", "row");
        if (fact.about) told.append(make("span", "hb-hint", " " + fact.about));
        row.append(head, told);
        rows.append(row);
      }
      after.append(make("h3", "", "The wood after it"), table);
    }
  };

  const showNames = () => {
    const wanted = /** @type {HTMLInputElement} */ (place("filter")).value.trim().toLowerCase();
    place("names").replaceChildren(...(seen ? seen.names : []).flatMap((group) => {
      const rows = group.rows.filter((row) => !wanted || (row.name + " " + row.says).toLowerCase().includes(wanted));
      if (!rows.length) return [];
      const table = make("table"), list = make("tbody");
      table.append(make("caption", "", group.title), list);
      for (const known of rows) {
        const row = make("tr"), head = make("th");
        head.setAttribute("scope", "row");
        head.append(make("code", "", known.name));
        row.append(head, set(known.lead, make("td")), set(known.other, make("td")), make("td", "", known.says));
        list.append(row);
      }
      return [table];
    }));
  };

  /** @param {Bench.Seen} now */
  const showHead = (now) => {
    const pick = /** @type {HTMLSelectElement} */ (place("project")), state = place("state");
    place("title").textContent = now.title;
    document.title = now.title + " on the bench";
    place("pick").hidden = now.projects.length < 2;
    pick.replaceChildren(...now.projects.map((name) => {
      const option = document.createElement("option");
      option.textContent = option.value = name;
      option.selected = name === now.project;
      return option;
    }));
    const counted = /** @type {const} */ (["problem", "stop", "mind", "note"]).map((level) => {
      const many = now.notes.filter((note) => note.level === level).length;
      return many ? many + " " + (level === "mind" ? "to mind" : level + (many > 1 ? "s" : "")) : "";
    }).filter(Boolean).join(", ");
    state.dataset.level = now.notes.some((note) => note.level === "problem" || note.level === "stop") ? "stop" : "";
    state.textContent = counted || "Nothing found";
    body.toggleAttribute("data-broken", now.broken);
    const stale = place("stale");
    stale.hidden = !now.broken;
    stale.replaceChildren();
    if (now.broken) {
      const first = now.notes[0];
      if (first) {
        const said = make("p");
        said.append(make("b", "", first.place));
        stale.append(said, set(first.message, make("p")));
        if (first.remedy) stale.append(set(first.remedy, make("p", "bench-remedy")));
      }
      stale.append(make("p", "bench-remedy", now.steps.length ? "Below is what the file last came to." : "Nothing can be shown until it is put right."));
    }
  };

  /** @type {(now: Bench.Seen) => Promise<void>} */
  const show = async (now) => {
    const before = seen, other = !before || before.project !== now.project;
    const moved = other || before.step?.number !== now.step?.number;
    seen = now;
    project = now.project;
    showHead(now);
    showFile(now);
    showSteps(now);
    showStep(now);
    place("named").hidden = !now.names.length;
    showNames();
    const here = now.steps.find((step) => step.number === now.step?.number);
    const problem = now.notes.find((note) => note.level === "problem" && note.line);
    if (now.broken && problem) bring(problem.line);
    else if (before && !other && now.number !== before.number && now.changed) bring(now.changed);
    else if (moved && here && here.first) bring(here.first);
    if (now.solid) await stand(now.solid, other);
    body.dataset.number = String(now.number);
  };

  /* ---- Asking ---- */

  const again = async () => {
    const mine = ++asked;
    const near = seen && seen.project === project && seen.step ? seen.step.number : 0;
    const answer = await fetch("/seen?" + new URLSearchParams({ project, step: String(chosen), near: String(near) }));
    if (mine !== asked) return;
    if (!answer.ok) {
      place("state").textContent = await answer.text();
      place("state").dataset.level = "stop";
      return;
    }
    const now = /** @type {Bench.Seen} */ (await answer.json());
    if (mine === asked) await show(now);
  };
  /** @param {number} number */
  const choose = (number) => {
    chosen = number;
    void again();
  };
  /** @param {number} by */
  const walk = (by) => {
    /* From the step that was asked for, which the answer may not show yet: two quick presses go two steps. */
    const from = chosen || seen?.step?.number;
    const at = seen?.steps.findIndex((step) => step.number === from) ?? -1, next = seen?.steps[at + by];
    if (next) choose(next.number);
  };

  const listen = () => {
    const news = new EventSource("/news?" + new URLSearchParams({ after: String(seen?.number ?? 0) }));
    news.addEventListener("message", () => {
      /* Where one follows, the step with the line that was changed is shown; else the one that is there stays. */
      chosen = follow.checked ? 0 : seen?.step?.number || 0;
      void again();
    });
    news.addEventListener("error", () => {
      place("state").textContent = "The bench has stopped; start it again with: handouts bench";
      place("state").dataset.level = "stop";
    });
    news.addEventListener("open", () => { if (seen) showHead(seen); });
  };

  /* ---- Hands ---- */

  const SCHEMES = ["system", "light", "dark"];
  /** @param {string} scheme */
  const paint = (scheme) => {
    document.documentElement.dataset.hbScheme = scheme;
    place("scheme").textContent = "Colors: " + scheme;
    look = null;
    ask();
  };
  const repaint = () => {
    const next = SCHEMES[(SCHEMES.indexOf(document.documentElement.dataset.hbScheme || "system") + 1) % SCHEMES.length];
    localStorage.setItem("handouts-bench-colors", next);
    paint(next);
  };
  place("scheme").addEventListener("click", repaint);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => { look = null; ask(); });
  place("project").addEventListener("change", (event) => {
    project = /** @type {HTMLSelectElement} */ (event.target).value;
    chosen = 0;
    history.replaceState(null, "", "?" + new URLSearchParams({ project }));
    void again();
  });
  place("filter").addEventListener("input", showNames);
  takes.addEventListener("change", ask);
  place("lines").addEventListener("click", (event) => {
    const row = event.target instanceof Element ? event.target.closest("li[data-step]") : null;
    if (row instanceof HTMLElement && !String(getSelection())) choose(Number(row.dataset.step));
  });
  new ResizeObserver(ask).observe(place("solids"));
  for (const { canvas, painter } of stands) {
    canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
    canvas.addEventListener("webglcontextrestored", () => { painter?.restart(); ask(); });
  }
  const keys = new Map([
    ["[", () => walk(-1)], ["]", () => walk(1)], ["PageUp", () => walk(-1)], ["PageDown", () => walk(1)],
    ["/", () => place("filter").focus()], ["t", () => takes.click()], ["f", () => follow.click()], ["d", repaint]
  ]);
  document.addEventListener("keydown", (event) => {
    const act = keys.get(event.key), typing = event.target instanceof HTMLElement && event.target.matches("input[type=search], select");
    if (event.key === "Escape" && typing) /** @type {HTMLElement} */ (event.target).blur();
    if (!act || typing || event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    event.preventDefault();
    act();
  });

  paint(localStorage.getItem("handouts-bench-colors") || "system");
  void again().then(listen);
})();
