"use strict";
// The stopwatch in a page. All of a run is put into the browser's storage at every press and
// every five seconds; the exported file is the same as the one the terminal's stopwatch writes.
// Runs that came before stay beside it. Of two windows, the one that was used last goes on.
(function () {
  var data = JSON.parse(document.getElementById("data").textContent);
  var legs = data.legs;
  var byId = function (id) { return document.getElementById(id); };
  var stored = true;
  var elsewhere = false;
  var earlier = [];
  var run = load() || fresh();
  var last = performance.now();
  var saved = last;
  var lock = null;

  function two(number) { return (number < 10 ? "0" : "") + number; }
  function today() {
    var now = new Date();
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate()) + " " + two(now.getHours()) + ":" + two(now.getMinutes());
  }
  function fresh() {
    return { began: today(), kind: "dry run", at: 0, running: false, now: 0, stretches: [], skipped: [], notes: [], open: false, thought: null };
  }
  function sound(one) {
    return one && Array.isArray(one.stretches) && Array.isArray(one.skipped) && Array.isArray(one.notes) &&
      typeof one.began === "string" && typeof one.now === "number" && Number.isInteger(one.at) && one.at >= 0 && one.at <= legs.length;
  }
  function load() {
    try {
      var text = localStorage.getItem(data.key);
      var one = text ? JSON.parse(text) : null;
      if (!sound(one)) { return null; }
      earlier = Array.isArray(one.earlier) ? one.earlier.filter(sound) : [];
      delete one.earlier;
      // However the page was left, the watch stands still until it is started again.
      one.running = false;
      one.open = false;
      // What was typed and not kept when the page went away was meant all the same.
      note(one);
      return one;
    } catch (fault) { return null; }
  }
  function save() {
    saved = performance.now();
    if (elsewhere) { return; }
    try {
      localStorage.setItem(data.key, JSON.stringify(Object.assign({ earlier: earlier }, run)));
      stored = true;
    } catch (fault) { stored = false; }
  }
  function words(seconds) {
    var whole = Math.round(seconds);
    return Math.floor(whole / 60) + ":" + two(whole % 60);
  }
  function leg() { return run.at < legs.length ? legs[run.at] : null; }
  function spent(name) {
    return run.stretches.reduce(function (sum, one) { return one.step === name ? sum + one.end - one.start : sum; }, 0);
  }
  function planned(many) {
    return legs.slice(0, many).reduce(function (sum, one) { return sum + one.planned; }, 0);
  }
  function pass() {
    var now = performance.now();
    var gone = (now - last) / 1000;
    last = now;
    if (run.running && leg() && gone > 0) {
      run.now += gone;
      run.stretches[run.stretches.length - 1].end = run.now;
    }
  }
  function enter() {
    if (leg() && !run.open) {
      run.stretches.push({ step: leg().name, shown: leg().shown, start: run.now, end: run.now });
      run.open = true;
    }
  }
  function start() {
    if (!leg() || run.running) { return; }
    if (!run.now) { run.began = today(); }
    run.running = true;
    enter();
    awake();
  }
  function pause() { run.running = false; run.open = false; asleep(); }
  function move(by) {
    run.at += by;
    run.open = false;
    if (!leg()) { run.running = false; asleep(); } else if (run.running) { enter(); }
  }
  function awake() {
    if (!navigator.wakeLock || lock || document.visibilityState !== "visible") { return; }
    navigator.wakeLock.request("screen").then(function (one) {
      lock = one;
      one.addEventListener("release", function () { lock = null; });
    }, function () { /* The browser or its battery says no; the watch goes on. */ });
  }
  function asleep() { if (lock) { lock.release(); lock = null; } }

  function line(text) {
    var seen = Array.from(text).map(function (sign) { return /[\p{C}\p{Z}]/u.test(sign) ? " " : sign; }).join("");
    return seen.replace(/\{/g, "(").replace(/\}/g, ")").replace(/</g, "\u2039").replace(/#/g, "No. ").replace(/ +/g, " ").trim().slice(0, 160).trim();
  }
  // A thought has the time and the step of when Note was pressed, however long it is typed at.
  function think() {
    if (!run.thought) { run.thought = { at: run.now, step: leg() && !resting(leg()) ? leg().name : "", says: "" }; }
  }
  function note(run) {
    var one = run.thought, said = one && typeof one.says === "string" && typeof one.at === "number" ? line(one.says) : "";
    if (said) { run.notes.push({ at: one.at, step: typeof one.step === "string" ? one.step : "", says: said }); }
    run.thought = null;
  }
  function close() {
    byId("thought").value = "";
    byId("noting").hidden = true;
  }
  function keep() { note(run); close(); }
  function resting(one) { return one.shown === "break"; }
  function file(run) {
    var quoted = JSON.stringify;
    var out = ["# Written by the stopwatch page. Correct it freely; it is read, never written over.", "runs:",
      "  - began: " + quoted(run.began), "    kind: " + (run.kind === "demonstration" ? run.kind : "dry run"), "    finished: " + (run.at < legs.length ? "false" : "true")];
    var lasted = run.stretches.filter(function (one) { return Math.round(one.end) > Math.round(one.start); });
    var kept = lasted.filter(function (one) { return !resting(one); }), breaks = lasted.filter(resting);
    out.push(kept.length ? "    times:" : "    times: []");
    kept.forEach(function (one) {
      out.push("      - {step: " + quoted(one.step) + ", shown: " + one.shown + ", from: " + quoted(words(one.start)) + ", to: " + quoted(words(one.end)) + "}");
    });
    if (breaks.length) {
      out.push("    breaks: [" + breaks.map(function (one) { return "{from: " + quoted(words(one.start)) + ", to: " + quoted(words(one.end)) + "}"; }).join(", ") + "]");
    }
    if (run.skipped.length) { out.push("    skipped: [" + run.skipped.map(quoted).join(", ") + "]"); }
    if (run.notes.length) {
      out.push("    notes:");
      run.notes.forEach(function (one) {
        out.push("      - {at: " + quoted(words(one.at)) + ", " + (one.step ? "step: " + quoted(one.step) + ", " : "") + "says: " + quoted(one.says) + "}");
      });
    }
    return out.join("\n") + "\n";
  }

  function draw() {
    var here = leg();
    byId("place").textContent = here ? "Step " + (run.at + 1) + " of " + legs.length + ", " + (here.shown === "talk" ? "told" : resting(here) ? "counts into no step" : here.shown) : "";
    byId("name").textContent = here ? here.name : "All steps are done.";
    var gone = here ? spent(here.name) : run.now;
    byId("spent").textContent = words(Math.floor(gone));
    byId("against").textContent = here ? "of " + words(here.planned) + " planned" : "in all";
    byId("bar").value = here ? Math.min(1, gone / Math.max(1, here.planned)) : 1;
    byId("bar").classList.toggle("over", Boolean(here) && gone > here.planned);
    var late = run.now - planned(run.at) - (here ? Math.min(gone, here.planned) : 0);
    byId("whole").textContent = words(Math.floor(run.now)) + " of " + words(planned(legs.length)) + " in all, " +
      (Math.abs(late) < 30 ? "on time" : words(Math.abs(late)) + (late > 0 ? " behind" : " ahead"));
    byId("next").textContent = !here ? "Done" : run.running || run.now ? "Next" : "Start";
    byId("next").disabled = !here;
    byId("skip").disabled = !here;
    byId("pause").disabled = !here || (!run.running && !run.now);
    byId("pause").textContent = run.running || !run.now ? "Pause" : "Go on";
    byId("back").disabled = run.at === 0;
    byId("held").checked = run.kind === "demonstration";
    byId("status").textContent = elsewhere ? "This stopwatch runs in another window. Go on there, or load this page again to go on here."
      : stored ? "" : "This browser keeps nothing. Export the file before you close the page.";
    Array.from(byId("steps").children).forEach(function (item, index) {
      var one = legs[index], took = spent(one.name);
      var text = one.name + (took ? ", " + words(took) : "") + (run.skipped.indexOf(one.name) >= 0 ? ", skipped" : "") + " (" + words(one.planned) + ")";
      if (item.textContent !== text) { item.textContent = text; }
      if (index === run.at) { item.setAttribute("aria-current", "step"); } else { item.removeAttribute("aria-current"); }
    });
  }
  function on(id, act) {
    byId(id).addEventListener("click", function () {
      if (elsewhere && id !== "show" && id !== "export") { return; }
      pass();
      act();
      save();
      draw();
    });
  }
  function hand(one) {
    var link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([file(one)], { type: "text/yaml" }));
    link.download = data.project + "-" + one.began.slice(0, 10) + ".yml";
    link.click();
    setTimeout(function () { URL.revokeObjectURL(link.href); }, 10000);
  }
  function listed() {
    byId("earlier").replaceChildren.apply(byId("earlier"), earlier.map(function (one) {
      var item = document.createElement("li"), button = document.createElement("button");
      button.type = "button";
      button.textContent = "Export the run of " + one.began + ", " + words(one.now) + " long";
      button.addEventListener("click", function () { hand(one); });
      item.appendChild(button);
      return item;
    }));
  }

  legs.forEach(function () { byId("steps").appendChild(document.createElement("li")); });
  on("next", function () { keep(); if (!run.running && !run.now) { start(); } else { move(1); } });
  on("pause", function () { if (run.running) { pause(); } else { start(); } });
  on("back", function () {
    keep();
    if (run.at === 0) { return; }
    move(-1);
    run.skipped = run.skipped.filter(function (name) { return name !== leg().name; });
  });
  on("skip", function () {
    keep();
    if (!leg()) { return; }
    if (!resting(leg()) && run.skipped.indexOf(leg().name) < 0) { run.skipped.push(leg().name); }
    move(1);
  });
  on("noted", function () { think(); byId("noting").hidden = false; byId("thought").focus(); });
  byId("thought").addEventListener("input", function () { think(); run.thought.says = byId("thought").value; save(); });
  on("keep", function () { keep(); byId("noted").focus(); });
  on("drop", function () { run.thought = null; close(); byId("noted").focus(); });
  on("show", function () { keep(); byId("text").hidden = false; byId("text").value = file(run); byId("text").focus(); byId("text").select(); });
  on("export", function () { keep(); hand(run); });
  on("held", function () { run.kind = byId("held").checked ? "demonstration" : "dry run"; });
  on("fresh", function () {
    keep();
    pause();
    if (run.now) { earlier.push(run); }
    run = fresh();
    listed();
  });
  window.addEventListener("storage", function (event) {
    if (event.key !== data.key && event.key !== null) { return; }
    pass();
    pause();
    elsewhere = true;
    draw();
  });
  document.addEventListener("visibilitychange", function () {
    pass();
    save();
    if (document.visibilityState === "visible" && run.running) { awake(); }
  });
  window.addEventListener("pagehide", function () { pass(); keep(); save(); });
  setInterval(function () {
    pass();
    if (run.running && performance.now() - saved > 5000) { save(); }
    draw();
  }, 250);
  listed();
  draw();
})();
