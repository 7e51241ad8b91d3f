/* The stopwatch in a page. All of a run is put into the browser's storage at every press and
   every five seconds; the exported file is the same as the one the terminal's stopwatch writes.
   Runs that came before stay beside it. Of two windows, the one that was used last goes on.
   A run keeps the legs it began with, whatever plan the page is printed with later. */
(() => {
  "use strict";

  /** @type {<Kind extends HTMLElement>(id: string, kind: new () => Kind) => Kind} */
  const part = (id, kind) => {
    const found = document.getElementById(id);
    if (!(found instanceof kind)) throw new Error("the page has no " + id);
    return found;
  };
  /** @param {string} id */
  const button = (id) => part(id, HTMLButtonElement);

  /** @type {Watch.Data} */
  const data = JSON.parse(part("data", HTMLScriptElement).text);
  const { words } = data, [REHEARSED, HELD] = data.kinds;
  const EVERY = 250, SAVE_EVERY = 5000, KEPT_FOR_DOWNLOAD = 10000;

  const place = part("place", HTMLElement), name = part("name", HTMLElement), clock = part("spent", HTMLElement);
  const against = part("against", HTMLElement), bar = part("bar", HTMLProgressElement), whole = part("whole", HTMLElement);
  const now = part("clock", HTMLElement), ends = part("ends", HTMLElement), late = part("late", HTMLElement), following = part("following", HTMLElement);
  const status = part("status", HTMLElement), held = part("held", HTMLInputElement), steps = part("steps", HTMLElement);
  const noting = part("noting", HTMLElement), thought = part("thought", HTMLTextAreaElement);
  const shownFile = part("text", HTMLTextAreaElement), earlierRuns = part("earlier", HTMLElement);

  /* ---- Words ---- */

  /** @param {number} number */
  const two = (number) => String(number).padStart(2, "0");
  const today = () => {
    const now = new Date();
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate()) + " " + two(now.getHours()) + ":" + two(now.getMinutes());
  };
  /* A sentence with its `{places}` filled. */
  /** @type {(sentence: string, values: Record<string, string | number>) => string} */
  const fill = (sentence, values) => sentence.replace(/\{(\w+)\}/g, (_, name) => String(values[name]));
  /** @param {number} seconds */
  const elapsed = (seconds) => {
    const rounded = Math.round(seconds);
    return Math.floor(rounded / 60) + ":" + two(rounded % 60);
  };
  /* Signs as they are seen, none of which may be cut in two: an accent stays with its letter, a family is one. */
  /** @param {string} text */
  const signs = (text) => typeof Intl.Segmenter === "function"
    ? Array.from(new Intl.Segmenter(undefined, { granularity: "grapheme" }).segment(text), ({ segment }) => segment)
    : Array.from(text);
  /* No longer than a line of the file takes, which counts code points. */
  /** @param {string} text */
  const cut = (text) => {
    let kept = "", room = data.longest;
    for (const sign of signs(text)) {
      room -= Array.from(sign).length;
      if (room < 0) break;
      kept += sign;
    }
    return kept || Array.from(text).slice(0, data.longest).join("");
  };
  /* Text fit for the file: one line, nothing unseen, no curly brackets or markup. What joins two signs to one stays. */
  /** @param {string} text */
  const line = (text) => {
    const seen = text.replace(/[\p{C}\p{Z}]/gu, (sign, at) => sign === "\u200d" && /[^\p{C}\p{Z}]$/u.test(text.slice(0, at)) && /^[^\p{C}\p{Z}]/u.test(text.slice(at + 1)) ? sign : " ");
    const plain = data.replaced.reduce((told, [sign, instead]) => told.replaceAll(sign, instead), seen);
    return cut(plain.replace(/ +/g, " ").trim()).trim();
  };

  /* ---- The run, and where it is kept ---- */

  /** @returns {Watch.Run} */
  const begun = () => ({ began: today(), kind: REHEARSED, at: 0, running: false, now: 0, stretches: [], pauses: [], skipped: [], notes: [], open: false, thought: null, legs: data.legs });
  /* A run of an older page does not say what it goes over. */
  /** @param {any} kept @returns {kept is Watch.Run} */
  const sound = (kept) => Boolean(kept) && Array.isArray(kept.legs ??= data.legs) && Array.isArray(kept.stretches) && Array.isArray(kept.pauses ??= []) && Array.isArray(kept.skipped) && Array.isArray(kept.notes) &&
    typeof kept.began === "string" && typeof kept.now === "number" && Number.isInteger(kept.at) && kept.at >= 0 && kept.at <= kept.legs.length;
  /* A thought that was being written becomes a note. */
  /** @param {Watch.Run} at */
  const note = (at) => {
    const written = at.thought, says = written && typeof written.says === "string" && typeof written.at === "number" ? line(written.says) : "";
    if (written && says) at.notes.push({ at: written.at, step: typeof written.step === "string" ? written.step : "", says });
    at.thought = null;
  };
  /** @returns {[run: Watch.Run, earlier: Watch.Run[]]} */
  const load = () => {
    try {
      const text = localStorage.getItem(data.key), kept = text ? JSON.parse(text) : null;
      if (!sound(kept)) return [begun(), []];
      const { earlier, ...run } = kept;
      /* However the page was left, the watch stands still until it is started again. */
      run.running = run.open = false;
      /* What was typed and not kept when the page went away was meant all the same. */
      note(run);
      return [run, Array.isArray(earlier) ? earlier.filter(sound) : []];
    } catch { return [begun(), []]; }
  };

  let [run, earlier] = load();
  let last = performance.now(), saved = last;
  let stored = true, elsewhere = false;
  /** @type {WakeLockSentinel | null} */
  let lock = null;

  const save = () => {
    saved = performance.now();
    if (elsewhere) return;
    try {
      localStorage.setItem(data.key, JSON.stringify({ earlier, ...run }));
      stored = true;
    } catch { stored = false; }
  };

  /* ---- The watch ---- */

  const leg = () => run.at < run.legs.length ? run.legs[run.at] : null;
  /** @param {{ shown: string }} shown */
  const resting = ({ shown }) => !data.counted.includes(shown);
  /** @param {Watch.Leg} told */
  const numbered = ({ number, name: called }) => (number ? number + ". " : "") + called;
  /** @param {Watch.Leg} told */
  const how = ({ shown }) => data.shown[shown] ?? words.between;
  /** @param {string} step */
  const spent = (step) => run.stretches.reduce((sum, stretch) => stretch.step === step ? sum + stretch.end - stretch.start : sum, 0);
  /** @param {number} many */
  const planned = (many) => run.legs.slice(0, many).reduce((sum, each) => sum + each.planned, 0);
  const pass = () => {
    const now = performance.now(), gone = (now - last) / 1000;
    last = now;
    if (!leg() || gone <= 0) return;
    if (run.running) {
      run.now += gone;
      run.stretches[run.stretches.length - 1].end = run.now;
    } else if (run.stretches.length) {
      /* A recording goes on while the watch stands still. */
      const stands = run.pauses[run.pauses.length - 1];
      if (stands && stands.at === run.now) stands.lasted += gone;
      else run.pauses.push({ at: run.now, lasted: gone });
    }
  };
  const enter = () => {
    const here = leg();
    if (!here || run.open) return;
    run.stretches.push({ step: here.name, shown: here.shown, start: run.now, end: run.now });
    run.open = true;
  };
  const awake = async () => {
    if (!navigator.wakeLock || lock || document.visibilityState !== "visible") return;
    try {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => { lock = null; });
    } catch { /* The browser or its battery says no; the watch goes on. */ }
  };
  const asleep = () => {
    void lock?.release();
    lock = null;
  };
  const start = () => {
    if (!leg() || run.running) return;
    if (!run.now) run.began = today();
    run.running = true;
    enter();
    void awake();
  };
  const pause = () => {
    run.running = run.open = false;
    asleep();
  };
  /** @param {number} by */
  const move = (by) => {
    run.at += by;
    run.open = false;
    if (!leg()) pause();
    else if (run.running) enter();
  };
  /* A thought has the time and the step of when Note was pressed, however long it is typed at. */
  const think = () => {
    const here = leg();
    return run.thought ??= { at: run.now, step: here && !resting(here) ? here.name : "", says: "" };
  };
  const close = () => {
    thought.value = "";
    noting.hidden = true;
  };
  const keep = () => {
    note(run);
    close();
  };

  /* ---- The file ---- */

  /** @param {Watch.Run} told */
  const file = ({ began, kind, at, stretches, pauses, skipped, notes, legs }) => {
    const quoted = JSON.stringify;
    /** @param {Watch.Stretch} stretch */
    const times = ({ start: from, end }) => "from: " + quoted(elapsed(from)) + ", to: " + quoted(elapsed(end));
    const lasted = stretches.filter((stretch) => Math.round(stretch.end) > Math.round(stretch.start));
    const kept = lasted.filter((stretch) => !resting(stretch)), breaks = lasted.filter(resting);
    const lines = [
      "# Written by the stopwatch page. Correct it freely; it is read, never written over.", "runs:",
      "  - began: " + quoted(began), "    kind: " + (kind === HELD ? HELD : REHEARSED),
      ...(data.evening ? ["    for: " + quoted(data.evening)] : []), "    finished: " + String(at >= legs.length),
      legs.length ? "    plan:" : "    plan: []",
      ...legs.map(({ name: called, shown, planned: due, number }) =>
        "      - {name: " + quoted(called) + ", shown: " + shown + ", planned: " + quoted(elapsed(due)) + (number ? ", number: " + String(number) : "") + "}"),
      kept.length ? "    times:" : "    times: []",
      ...kept.map((stretch) => "      - {step: " + quoted(stretch.step) + ", shown: " + stretch.shown + ", " + times(stretch) + "}")
    ];
    if (breaks.length) lines.push("    breaks:", ...breaks.map((stretch) => "      - {what: " + stretch.shown + ", " + times(stretch) + "}"));
    const stood = pauses.filter((pause) => Math.round(pause.lasted) > 0);
    if (stood.length) lines.push("    pauses:", ...stood.map((pause) => "      - {at: " + quoted(elapsed(pause.at)) + ", for: " + quoted(elapsed(pause.lasted)) + "}"));
    if (skipped.length) lines.push("    skipped: [" + skipped.map((step) => quoted(step)).join(", ") + "]");
    if (notes.length) lines.push("    notes:");
    for (const { at: when, step, says } of notes) {
      lines.push("      - {at: " + quoted(elapsed(when)) + ", " + (step ? "step: " + quoted(step) + ", " : "") + "says: " + quoted(line(says)) + "}");
    }
    return lines.join("\n") + "\n";
  };
  /** @param {Watch.Run} told */
  const hand = (told) => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([file(told)], { type: "text/yaml" }));
    link.download = data.project + "-" + told.began.slice(0, 10) + ".yml";
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), KEPT_FOR_DOWNLOAD);
  };

  /* ---- The page ---- */

  /* By the host's clock, and by the demonstrator's where it is another; a dry run goes by this device's. */
  /** @param {number} at */
  const clocks = (at) => (data.zones.length ? data.zones : [[undefined, ""]]).map(([zone, city]) => {
    const told = new Intl.DateTimeFormat("en-US", { hour: "2-digit", minute: "2-digit", hourCycle: "h23", timeZone: zone }).format(at);
    const [hour, minute = ""] = told.split(":");
    const time = fill(Number(hour) < 12 ? words.am : words.pm, { hour, hour12: Number(hour) % 12 || 12, minute });
    return data.zones.length > 1 ? fill(words.there, { time, place: city ?? "" }) : time;
  }).join(", ");
  const drawClock = () => {
    const here = leg(), after = run.legs[run.at + 1];
    /* What is left by plan, of the step at hand and of those after it. */
    const left = here ? Math.max(0, here.planned - spent(here.name)) + planned(run.legs.length) - planned(run.at + 1) : 0;
    now.textContent = clocks(Date.now());
    const known = here ? (data.ends ? words.over_and_slot : words.over) : data.ends ? words.slot : "";
    ends.textContent = fill(known, { over: clocks(Date.now() + 1000 * left), ends: data.ends ? clocks(data.ends) : "" });
    following.textContent = here ? (after ? fill(words.following, { step: numbered(after), manner: how(after) }) : words.last) : "";
  };
  const drawStep = () => {
    const here = leg(), gone = here ? spent(here.name) : run.now;
    place.textContent = !here ? "" : here.number ? fill(words.step, { number: here.number, count: data.steps, manner: how(here) }) : how(here);
    name.textContent = here ? here.name : words.done;
    clock.textContent = elapsed(Math.floor(gone));
    against.textContent = here ? fill(words.against, { planned: elapsed(here.planned) }) : words.in_all;
    bar.value = here ? Math.min(1, gone / Math.max(1, here.planned)) : 1;
    bar.classList.toggle("over", here !== null && gone > here.planned);
    const behind = run.now - planned(run.at) - (here ? Math.min(gone, here.planned) : 0);
    late.textContent = Math.abs(behind) < data.near ? words.on_time : fill(behind > 0 ? words.behind : words.ahead, { time: elapsed(Math.abs(behind)) });
    late.classList.toggle("over", behind >= data.near);
    whole.textContent = fill(words.whole, { spent: elapsed(Math.floor(run.now)), planned: elapsed(planned(run.legs.length)) });
  };
  const drawKeys = () => {
    const done = leg() === null, started = run.running || run.now > 0;
    button("next").textContent = done ? words.finished : started ? words.next : words.start;
    button("next").disabled = button("skip").disabled = done;
    button("pause").disabled = done || !started;
    button("pause").textContent = run.running || !run.now ? words.pause : words.go_on;
    button("back").disabled = run.at === 0;
    held.checked = run.kind === HELD;
  };
  const rows = () => {
    while (steps.children.length < run.legs.length) steps.append(document.createElement("li"));
    while (steps.children.length > run.legs.length) steps.lastElementChild?.remove();
  };
  const draw = () => {
    drawClock();
    drawStep();
    drawKeys();
    const other = run.now > 0 && JSON.stringify(run.legs) !== JSON.stringify(data.legs);
    status.textContent = elsewhere ? words.elsewhere : !stored ? words.not_kept : other ? words.older_plan : "";
    rows();
    Array.from(steps.children).forEach((item, index) => {
      const step = run.legs[index], took = spent(step.name);
      const told = [numbered(step), took ? elapsed(took) : "", run.skipped.includes(step.name) ? words.skipped : ""];
      const text = told.filter(Boolean).join(", ") + " (" + elapsed(step.planned) + ")";
      if (item.textContent !== text) item.textContent = text;
      if (index === run.at) item.setAttribute("aria-current", "step");
      else item.removeAttribute("aria-current");
    });
  };
  const list = () => {
    earlierRuns.replaceChildren(...earlier.map((told) => {
      const item = document.createElement("li"), take = document.createElement("button");
      take.type = "button";
      take.textContent = fill(words.export, { began: told.began, long: elapsed(told.now) });
      take.addEventListener("click", () => hand(told));
      item.append(take);
      return item;
    }));
  };

  /* ---- What is pressed ---- */

  /** @type {(pressed: HTMLElement, act: () => void, anywhere?: boolean) => void} */
  const on = (pressed, act, anywhere = false) => pressed.addEventListener("click", () => {
    if (elsewhere && !anywhere) return;
    pass();
    act();
    save();
    draw();
  });

  on(button("next"), () => {
    keep();
    if (!run.running && !run.now) start();
    else move(1);
  });
  on(button("pause"), () => run.running ? pause() : start());
  on(button("back"), () => {
    keep();
    if (run.at === 0) return;
    move(-1);
    run.skipped = run.skipped.filter((step) => step !== leg()?.name);
  });
  on(button("skip"), () => {
    keep();
    const here = leg();
    if (!here) return;
    if (!resting(here) && !run.skipped.includes(here.name)) run.skipped.push(here.name);
    move(1);
  });
  on(button("noted"), () => {
    think();
    noting.hidden = false;
    thought.focus();
  });
  thought.addEventListener("input", () => {
    think().says = thought.value;
    save();
  });
  on(button("keep"), () => {
    keep();
    button("noted").focus();
  });
  on(button("drop"), () => {
    run.thought = null;
    close();
    button("noted").focus();
  });
  on(button("show"), () => {
    keep();
    shownFile.hidden = false;
    shownFile.value = file(run);
    shownFile.focus();
    shownFile.select();
  }, true);
  on(button("export"), () => {
    keep();
    hand(run);
  }, true);
  on(held, () => { run.kind = held.checked ? HELD : REHEARSED; });
  on(button("fresh"), () => {
    keep();
    pause();
    if (run.now) earlier.push(run);
    run = begun();
    list();
  });
  window.addEventListener("storage", (event) => {
    if (event.key !== data.key && event.key !== null) return;
    pass();
    pause();
    elsewhere = true;
    draw();
  });
  document.addEventListener("visibilitychange", () => {
    pass();
    save();
    if (document.visibilityState === "visible" && run.running) void awake();
  });
  window.addEventListener("pagehide", () => {
    pass();
    keep();
    save();
  });
  setInterval(() => {
    pass();
    if (run.running && performance.now() - saved > SAVE_EVERY) save();
    draw();
  }, EVERY);

  list();
  draw();
})();
