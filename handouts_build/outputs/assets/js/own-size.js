/* A project's page at one's own size: its formulas worked again, as the library works them.
   First the arithmetic, told apart from the page; then the templates; then the panel.
   Nothing here is run from text, and every text goes into the page as text. */
(function () {
  "use strict";

  /* ---- Numbers as they are printed --------------------------------------- */

  const NB = "\u00a0";
  const DEG = 1 / (Math.PI / 180);
  const ON_THE_MARK = 0.01, HALF = 1e-6;
  const SIDE = { over: "rounded up", under: "rounded down", nearest: "to the nearest mark" };

  /* Digits of |x| rounded half to even, as Python rounds: toFixed takes the larger of two equally near. */
  function digits(x, places) {
    if (x >= 1e21) return BigInt(x).toString();
    places = Math.min(places, 60);
    const up = x.toFixed(places), long = x.toFixed(places + 40), cut = long.length - 40;
    if (!/^50*$/.test(long.slice(cut + (places ? 0 : 1)))) return up;
    const down = long.slice(0, cut).replace(/\.$/, "");
    return "02468".includes(down[down.length - 1]) ? down : up;
  }

  function decimal(x, places, err) {
    if (err && err !== "nearest") {
      const under = Math.pow(10, places);
      x = mark(x, [1, under], err) / under;
    }
    let text = digits(Math.abs(x), places);
    if (text.includes(".")) text = text.replace(/\.?0+$/, "");
    const parts = text.split(".");
    parts[0] = parts[0].replace(/\B(?=(\d{3})+$)/g, ",");
    text = parts.join(".");
    return x < 0 && text !== "0" ? "−" + text : text;
  }

  /* At most so many decimals, or one digit that means something where these would make it nought. */
  function some(x, places, err) {
    const text = decimal(x, places, err);
    return text === "0" && Math.abs(x) >= 1e-6 ? decimal(x, -x.toExponential(6).split("e")[1], err) : text;
  }

  function general(x, most) {
    const [head, power] = x.toExponential(most - 1).split("e");
    if (+power < -4 || +power >= most) {
      const size = Math.abs(+power);
      return head.replace(/\.?0+$/, "") + "e" + (power < 0 ? "-" : "+") + (size < 10 ? "0" : "") + size;
    }
    const text = x.toFixed(most - 1 - power);
    return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
  }

  function shop(over, under) {
    let a = Math.abs(over), b = under;
    while (b) [a, b] = [b, a % b];
    const n = Math.abs(over) / a, d = under / a, sign = over < 0 ? "−" : "";
    const whole = Math.floor(n / d), part = n % d;
    if (!part) return sign + whole;
    return sign + (whole ? whole + NB : "") + part + "/" + d;
  }

  /* How many steps the mark is away from nought. */
  function mark(value, step, err) {
    const marks = value / (step[0] / step[1]), near = Math.round(marks);
    if (Math.abs(marks - near) <= ON_THE_MARK) return near;
    if (err === "over") return Math.ceil(marks);
    if (err === "under") return Math.floor(marks);
    return Math.floor(marks + 0.5 + HALF);
  }

  /* Inches over 64 where they are a shop fraction, else over 10,000. */
  function inches(x, err) {
    const inch = x / 25.4, marks = Math.round(inch * 64);
    return Math.abs(marks / 64 - inch) < 1e-9 ? [marks, 64] : [mark(inch, [1, 10000], err), 10000];
  }

  function exact(x, kind, lead, err, more) {
    const mm = lead === "mm", to = (y, places) => decimal(y, places + (more || 0), err);
    const few = (y, places) => some(y, places + (more || 0), err);
    switch (kind) {
      case "length": {
        if (mm) return decimal(mark(x, [1, 100], err) / 100, 2) + NB + "mm";
        const [over, under] = inches(x, err);
        return (64 * over % under ? decimal(over / under, 4) : shop(over, under)) + NB + "in";
      }
      case "angle": return to(x * DEG, 2) + "°";
      case "number": return Number.isInteger(x) ? decimal(x, 0) : to(x, Math.max(0, 3 - x.toExponential().split("e")[1]));
      case "speed": return to(x, 0) + NB + "rpm";
      case "time": return to(x, 1) + NB + "min";
      case "area": return mm ? few(x / 100, 2) + NB + "cm²" : few(x / 645.16, 3) + NB + "in²";
      case "volume": return mm ? few(x / 1000, 1) + NB + "cm³" : few(x / 16387.064, 2) + NB + "in³";
      case "mass": {
        if (mm) return Math.abs(x) < 1000 ? few(x, 0) + NB + "g" : to(x / 1000, 1) + NB + "kg";
        const oz = x / 28.349523125;
        return Math.abs(oz) < 32 ? few(oz, 1) + NB + "oz" : to(oz / 16, 1) + NB + "lb";
      }
      case "rim speed": return mm ? to(x / 1000 / 60, 1) + NB + "m/s" : to(x / 304.8, 0) + NB + "ft/min";
      case "density":
        return mm ? to(x * 1e6, 0) + NB + "kg/m³" : to(x * 28316846.592 / 453.59237, 1) + NB + "lb/ft³";
      default: return to(x, 4);
    }
  }

  const BOTH = ["area", "volume", "mass", "rim speed", "density"];

  /* {lead, other} as printed, the numbers that they say, and off: how much the leading one is rounded by, in mm.
     `hole` is what a tenon goes into, exact and as it is printed: the two fit as they are read. */
  function print(x, kind, rule, err, fine, hole) {
    const last = rule.lead === "in" ? "mm" : "in";
    if (kind !== "length") {
      return { lead: exact(x, kind, rule.lead, err), other: BOTH.includes(kind) ? exact(x, kind, last, err) : "", off: 0 };
    }
    const step = fine ? { in: [1, 1000], mm: [1, 100] } : rule;
    const at = { in: marked(x, "in", step.in, err, hole), mm: marked(x, "mm", step.mm, err, hole) };
    const text = {
      in: (fine ? decimal(at.in / 1000, 3) : shop(at.in * step.in[0], step.in[1])) + NB + "in",
      mm: decimal(at.mm * step.mm[0] / step.mm[1], 2) + NB + "mm"
    };
    const inch = at.in * step.in[0] / step.in[1], mm = at.mm * step.mm[0] / step.mm[1];
    const rounded = rule.lead === "in" ? at.in * step.in[0] * 127 / (step.in[1] * 5) : mm;
    return { lead: text[rule.lead], other: text[last], off: rounded - x, in: inch, mm: mm };
  }

  function marked(x, unit, step, err, hole) {
    const size = (length) => unit === "in" ? length * (1 / 25.4) : length;
    if (!hole || hole.printed[unit] === undefined) return mark(size(x), step, err);
    const at = mark(size(x) + (hole.printed[unit] - size(hole.value)), step, err);
    return x < hole.value ? Math.min(at, mark(hole.printed[unit], step, "over") - 1) : at;
  }

  /* A value as it is, such as a given or a bit, and not rounded to a mark. */
  function told(x, kind, rule, err) {
    const lead = exact(x, kind, rule.lead, err), other = exact(x, kind, rule.lead === "in" ? "mm" : "in", err);
    const made = { lead: lead, other: other === lead ? "" : other, off: 0 };
    if (kind !== "length") return made;
    const [over, under] = inches(x, err);
    return Object.assign(made, { in: over / under, mm: mark(x, [1, 100], err) / 100 });
  }

  /* A value in its manner: {err, fine, exact}. */
  function shown(x, kind, rule, how, hole) {
    return how.exact && kind === "length" ? told(x, kind, rule, how.err) : print(x, kind, rule, how.err || "nearest", how.fine, hole);
  }

  function said(printed) {
    return printed.other ? printed.lead + " (" + printed.other + ")" : printed.lead;
  }

  function rounding(printed, x, kind, lead, err, fine) {
    const off = printed.off;
    if (kind !== "length") return printed.lead === exact(x, kind, lead) ? "" : SIDE[err] + ": " + printed.lead;
    if (fine || Math.abs(off) < 5e-4) return "";
    const by = lead === "in" ? decimal(Math.abs(off) / 25.4, 4) + NB + "in" : decimal(Math.abs(off), 2) + NB + "mm";
    return SIDE[err] + ": " + printed.lead + ", " + by + " " + (off > 0 ? "over" : "under");
  }

  /* ---- Sizes as they are written ------------------------------------------ */

  const VULGAR = { "½": [1, 2], "⅓": [1, 3], "⅔": [2, 3], "¼": [1, 4], "¾": [3, 4], "⅛": [1, 8], "⅜": [3, 8], "⅝": [5, 8], "⅞": [7, 8] };
  const V = Object.keys(VULGAR).join("");
  const NUMBER = "(?:[0-9]+[ \u00a0][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+[ \u00a0]?[" + V + "]|[" + V + "]|[0-9]+\\.[0-9]+|\\.[0-9]+|[0-9]+)";
  const SPELT = { inch: "in", inche: "in", millimetre: "mm", millimeter: "mm", degree: "deg", minute: "min", min: "min", deg: "deg", centimetre: "cm", centimeter: "cm", mm: "mm", in: "in" };
  const ONE_OF = "write it as 2 1/4 in, 2.25 in, 3/8 in, 57 mm, 22.5 deg, 4 min or 1200 rpm";

  /* A message is worded as the command line words it, for the author; `told` says the same to a reader, who knows
     what a size is for and not what the file calls it. */
  function fault(message, hint, told) {
    return { message: message, hint: hint || "", told: told || message };
  }
  function label(says) {
    return "“" + says + "”";
  }

  /* The nearest binary number to over/under: enough bits, and one that says whether any were left. */
  function nearest(over, under) {
    const shift = Math.max(0, 70 + under.toString(2).length - over.toString(2).length);
    const wide = over << BigInt(shift);
    const bits = wide / under;
    return Number(wide % under ? bits | 1n : bits) / Math.pow(2, shift);
  }

  function fraction(text) {
    text = text.replace(/\u00a0/g, " ").trim();
    const last = VULGAR[text[text.length - 1]];
    if (last) return [BigInt(text.slice(0, -1).trim() || 0) * BigInt(last[1]) + BigInt(last[0]), BigInt(last[1])];
    const [, whole, part] = /^(?:(.*) )?(.*)$/.exec(text);
    let over, under = 1n;
    if (part.includes("/")) [over, under] = part.split("/").map(BigInt);
    else {
      const [before, after = ""] = part.split(".");
      under = 10n ** BigInt(after.length);
      over = BigInt(before + after);
    }
    if (!under) throw fault("'" + text + "' divides by nought", "the lower number of a fraction is 2, 4, 8, 16 …");
    return [BigInt(whole || 0) * under + over, under];
  }

  /* {value, kind} of a written quantity in base units; throws a fault with its message and hint. */
  function read(text, units) {
    const written = text.trim(), long = Array.from(written).length;
    if (long > 40) {
      throw fault("this number is " + long.toLocaleString("en-US") + " characters long; at most 40 are read",
        "round it: a millionth of an inch is finer than wood holds");
    }
    const less = /^[-−]/.test(written);
    const body = (less ? written.slice(1).trimStart() : written).replace(/([0-9]+)-([0-9]+\/[0-9]+)(?![0-9])/g, "$1 $2");
    const unit = Object.keys(units).sort((a, b) => b.length - a.length).join("|");
    const found = new RegExp("^(" + NUMBER + ")[ \u00a0]?(" + unit + ")?$").exec(body);
    if (!found) throw fault("'" + written + "' is not a number with a unit", advice(body, unit));
    const [over, under] = fraction(found[1]);
    if (!found[2]) return { value: (less ? -1 : 1) * nearest(over, under), kind: "number" };
    const [kind, size, parts] = units[found[2]];
    const value = kind === "length" ? nearest(over * BigInt(size), under * BigInt(parts)) : nearest(over, under) * size;
    return { value: less ? -value : value, kind: kind };
  }

  function advice(body, unit) {
    if (new RegExp("^[0-9]+,[0-9]+[ ]?(" + unit + ")?$").test(body)) return "write the decimal with a point: " + body.replace(",", ".");
    if (/[0-9][^x×]* ?[x×] ?[0-9]/.test(body)) return "one number is due here, not two; a formula multiplies with *, such as 2 * 3 in";
    const number = new RegExp("^" + NUMBER).exec(body);
    if (!number) return ONE_OF;
    const word = body.slice(number[0].length).trim().toLowerCase().replace(/[.s]+$/, "");
    return Object.hasOwn(SPELT, word) ? "write " + number[0] + " " + SPELT[word] : ONE_OF;
  }

  /* The value of a size as typed; throws a fault if the size cannot be that. */
  function sized(size, text, units, lead) {
    const shown = text.trim();
    let found;
    try { found = read(text, units); } catch (error) {
      /* What is offered instead measures what this size measures. */
      const offered = /^write \S.* (\S+)$/.exec(error.hint);
      if (error.hint === ONE_OF || offered && units[offered[1]] && units[offered[1]][0] !== size.kind) error.hint = "write " + size.wants;
      throw error;
    }
    const x = found.value;
    if (found.kind === "number" && /[/½⅓⅔¼¾⅛⅜⅝⅞]/.test(shown)) {
      throw fault("'" + shown + "' has no unit", "write " + shown + " in; a plain number is whole or has a point: " + general(x, 6));
    }
    if (found.kind !== size.kind) {
      if (found.kind === "number") throw fault("'" + shown + "' has no unit", "write " + size.wants);
      throw fault("'" + shown + "' is not a " + size.kind, "write " + size.wants);
    }
    const wrong = unsound(size, x, lead);
    if (wrong) throw wrong;
    return x;
  }

  function unsound(size, x, lead) {
    const name = "'" + size.name + "'", told = label(size.says), long = size.kind === "length" ? tooLong(x, name, told) : null;
    const both = (what) => fault(name + what, "", told + what);
    if (long) return long;
    if (x <= 0) return both(" must be more than nought");
    for (const bound of ["least", "most"]) {
      if (size[bound] !== undefined && (bound === "least" ? x < size[bound] : x > size[bound])) {
        return both(" is outside its own bounds: " + bound + " is " + exact(size[bound], size.kind, lead));
      }
    }
    if (size.choices && !size.choices.some((one) => Math.abs(one.value - x) < 1e-9)) return both(" is not one of its own choices");
    return null;
  }

  function tooLong(x, what, told) {
    const both = (says, hint) => fault(what + says, hint, told + says);
    if (x <= 0) return both(" is " + exact(x, "length", "in") + " (" + exact(x, "length", "mm") + ")", "a length must be more than nought");
    if (x > 20000) return both(" is longer than 20 m", "is its unit right?");
    return null;
  }

  /* ---- Formulas ------------------------------------------------------------ */

  const ALIKE = 1e-9;
  const CALLS = {
    abs: (x) => Math.abs(x), min: (...all) => Math.min(...all), max: (...all) => Math.max(...all),
    sin: Math.sin, cos: Math.cos, tan: Math.tan, asin: Math.asin, acos: Math.acos, atan: Math.atan, exp: Math.exp,
    sqrt: Math.sqrt, round_up: (x, step) => stepped(x / step, Math.ceil) * step, round_down: (x, step) => stepped(x / step, Math.floor) * step
  };

  function stepped(steps, way) {
    const near = Math.round(steps);
    return Math.abs(steps - near) < 1e-6 ? near : way(steps);
  }

  function finite(x) {
    if (!Number.isFinite(x)) throw fault("the result is too large to be a number");
    return x;
  }

  function valueOf(tree, look) {
    const [head, a, b] = tree;
    if (head === "num") return a;
    if (head === "name") return a === "pi" ? Math.PI : look(a);
    if (head === "neg") return -valueOf(a, look);
    if (head === "sum") {
      let total = 0;
      for (let each = 0; each <= a; each++) total += valueOf(b, (name) => name === "#" ? each : look(name));
      return total;
    }
    if (head === "call") {
      const all = tree.slice(2).map((one) => valueOf(one, look)), x = all[0];
      if (a.startsWith("round") && all[1] <= 0) throw fault(a + " needs a step of more than nought");
      if (a.startsWith("round")) finite(x / all[1]);
      if (a === "sqrt" && x < 0) throw fault("a negative value has no square root");
      if (a === "exp" && x > 700) throw fault("the result is too large to be a number");
      if ((a === "asin" || a === "acos") && Math.abs(x) > 1) {
        if (Math.abs(x) > 1 + ALIKE) throw fault(a + " needs a number from -1 to 1, and this is " + general(x, 4));
        all[0] = Math.sign(x);
      }
      return finite(CALLS[a](...all));
    }
    const x = valueOf(a, look), y = valueOf(b, look);
    if (head === "/" && y === 0) throw fault("this divides by nought");
    return finite(head === "+" ? x + y : head === "-" ? x - y : head === "*" ? x * y : head === "/" ? x / y : Math.pow(x, y));
  }

  function holds(tree, look) {
    const x = valueOf(tree[1], look), y = valueOf(tree[2], look), slack = ALIKE * Math.max(Math.abs(x), Math.abs(y)), more = x - y;
    return { "<": more < -slack, "<=": more <= slack, ">": more > slack, ">=": more >= -slack }[tree[0]];
  }

  function names(tree, found) {
    found = found || new Set();
    if (tree[0] === "name") { if (tree[1] !== "pi" && tree[1] !== "#") found.add(tree[1]); } else tree.forEach((one) => Array.isArray(one) && names(one, found));
    return found;
  }

  const BINDS = { "<": 0, ">": 0, "<=": 0, ">=": 0, "+": 1, "-": 1, "*": 2, "/": 2, "^": 4 };
  const SIGNS = { "+": " + ", "-": " − ", "*": " × ", "/": " / ", "<": " < ", ">": " > ", "<=": " ≤ ", ">=": " ≥ " };
  const SHOWN = { asin: "arcsin", acos: "arccos", atan: "arctan" };

  /* A formula with its numbers put in, brackets only where they are needed. */
  function written(tree, say, within) {
    const [head, a, b] = tree;
    if (head === "num") return b.replace(/ deg/g, "°").replace(/ /g, NB);
    if (head === "name") {
      if (a === "pi") return "π";
      const text = say(a);
      return text.startsWith("−") && within > 0 ? "(" + text + ")" : text;
    }
    if (head === "neg") return bracketed("−" + written(a, say, 3), within > 1);
    if (head === "call") {
      const inside = tree.slice(2).map((one) => written(one, say, 0)).join(", ");
      if (a === "sqrt") return "√(" + inside + ")";
      if (a === "abs") return "|" + inside + "|";
      return (SHOWN[a] || a).replace(/_/g, " ") + "(" + inside + ")";
    }
    const binds = BINDS[head];
    if (head === "^") {
      let left = written(a, say, binds + 1);
      if ((a[0] === "name" || a[0] === "num") && !left.startsWith("(") && /[\s°]/.test(left)) left = "(" + left + ")";
      return bracketed(left + " ²³⁴⁵⁶"[b[1] - 1], binds < within);
    }
    const right = written(b, say, binds + (head === "-" || head === "/" ? 1 : 0));
    return bracketed(written(a, say, binds) + SIGNS[head] + right, binds < within);
  }

  function bracketed(text, need) {
    return need ? "(" + text + ")" : text;
  }

  /* ---- A project, worked ---------------------------------------------------- */

  const UNSETTLED = {};

  /* Everything that follows from the chosen sizes: the library's own order of things, its words, its rounding.
     `chosen` gives a number for each size by name; a size that is missing leaves out what rests on it. */
  function work(data, chosen, rule) {
    const values = new Map(), prints = new Map(), kinds = new Map(), rows = new Map();
    const moved = new Set(), stale = new Set(), failed = new Set(), done = new Set(), unjudged = [];
    const problems = [], findings = [], off = new Map(), pieces = new Map(data.pieces.map((one) => [one.name, one]));
    const step = rule.lead === "in" ? rule.in[0] * 127 / (rule.in[1] * 5) : rule.mm[0] / rule.mm[1];
    const before = data.rule.lead === "in" ? data.rule.in[0] * 127 / (data.rule.in[1] * 5) : data.rule.mm[0] / data.rule.mm[1];

    function put(name, x, kind, was, printed) {
      values.set(name, x);
      kinds.set(name, kind);
      prints.set(name, printed);
      if (Math.abs(x - was) > 1e-9 * Math.max(Math.abs(x), Math.abs(was))) moved.add(name);
    }
    function note(at, wrong) {
      problems.push({ at: at, message: wrong.message, hint: wrong.hint, told: wrong.told });
    }
    function look(name) {
      if (!values.has(name)) settle(name.split(".")[0]);
      if (!values.has(name)) throw UNSETTLED;
      return values.get(name);
    }
    function tried(run, wrong) {
      try { return run(); } catch (error) {
        if (error instanceof Error) throw error;
        if (error !== UNSETTLED) wrong(error);
        throw UNSETTLED;
      }
    }
    function rested(name, all) {
      for (const one of all) if (stale.has(one)) stale.add(name);
    }
    function measured(tree, kind, at, what, told, one) {
      const x = tried(() => valueOf(tree, look), (error) => note(at, fault(error.message, error.hint, told + " has no value at these sizes: " + error.message)));
      const wrong = kind === "length" && !(one && one.signed) ? tooLong(x, what, told) : null;
      if (!wrong) return x;
      if (x <= 0) wrong.told += ", and " + wrong.hint;
      note(at, wrong);
      if (one) { off.set(one.name, x); kinds.set(one.name, kind); prints.set(one.name, shown(x, kind, rule, one)); }
      throw UNSETTLED;
    }
    function filled(text) {
      return text.replace(/\{([a-z0-9_.]+)\}/g, (whole, name) => prints.has(name) ? said(prints.get(name)) : whole);
    }
    function judge(one, about, into, find) {
      const met = holds(one.tree, find || look);
      if (Array.from(names(one.tree)).some((name) => stale.has(name))) unjudged.push(about);
      else if (!met) {
        const message = filled(one.message), told = one.says ? filled(one.says) + " (" + broken(one.tree, find) + ")" : message;
        (into || findings).push({ level: one.level, about: about, message: message, told: told, remedy: filled(one.remedy), asked: Boolean(one.says) });
      }
    }
    /* The author's rule in words that a reader has seen on the page, and what came out instead. */
    function broken(tree, find) {
      const is = tree[1][0] === "name" ? ": it is " + exact(find(tree[1][1]), kinds.get(tree[1][1]), rule.lead) : "";
      return written(tree, called, 0) + " does not hold" + is;
    }
    function called(name) {
      if (name === "rule") return "the finest mark of your rule";
      const size = data.sizes.find((one) => one.name === name), piece = pieces.get(name.split(".")[0]);
      const one = size || piece && (piece.dimensions || []).concat(piece.givens || []).find((each) => each.name === name && each.says);
      return one ? label(one.says) + (piece && piece.title ? " of " + label(piece.title) : "") : name.replace(/[._]/g, NB);
    }

    function needs(piece) {
      if (!piece.needs) {
        const all = new Set();
        for (const one of piece.givens || []) if (one.key) names(one.tree, all);
        if (!piece.givens) for (const one of piece.dimensions || []) names(one.tree, all);
        piece.needs = Array.from(all, (name) => name.split(".")[0]).filter((name) => name !== "rule" && name !== piece.name);
      }
      return piece.needs;
    }
    function settle(name) {
      const piece = pieces.get(name);
      if (!piece || done.has(name)) return;
      done.add(name);
      needs(piece).forEach(settle);
      if (needs(piece).some((one) => failed.has(one))) failed.add(name);
      else {
        try { (piece.givens ? chapter : own)(piece); } catch (error) {
          if (error !== UNSETTLED) throw error;
          failed.add(name);
        }
      }
      if (failed.has(name)) for (const one of values.keys()) if (one.split(".")[0] === name) [values, rows].forEach((all) => all.delete(one));
    }
    function row(plain, x) {
      /* A neck is rounded to the side of the station it is at. */
      const at = plain.at && plain.at.find(([name]) => values.get(name) === x);
      const one = plain.at ? Object.assign({}, plain, at ? at[1] : { err: "nearest" }) : plain;
      put(one.name, x, one.kind, one.value, shown(x, one.kind, rule, one, hole(one.below)));
      rested(one.name, names(one.tree));
      rows.set(one.name, one);
    }
    function hole(name) {
      return name && prints.has(name) ? { value: values.get(name), printed: prints.get(name) } : undefined;
    }
    function own(piece) {
      const one = piece.dimensions[0];
      row(one, measured(one.tree, one.kind, one.name, "'" + one.name + "'", label(one.says), one));
    }
    function chapter(piece) {
      let bad = false;
      for (const one of piece.givens) {
        if (!one.key) continue;
        try {
          const what = one.what || one.key;
          put(one.name, measured(one.tree, one.kind, piece.name + "." + one.key, what, one.says ? label(one.says) : what, one), one.kind, one.value);
          rested(one.name, names(one.tree));
        } catch (error) {
          if (error !== UNSETTLED) throw error;
          bad = true;
        }
      }
      if (bad) throw UNSETTLED;
      for (const one of piece.givens) {
        if (one.rests) {
          const line = one.lines && one.lines.find((each) => look(one.rests[0]) <= each[0]);
          put(one.name, line ? line[1] : one.value, one.kind, one.value);
          if (one.rests.some((name) => stale.has(name) || !line && moved.has(name))) stale.add(one.name);
        } else if (!one.key) {
          put(one.name, valueOf(one.tree, look), one.kind, one.value);
          rested(one.name, names(one.tree));
        }
        /* What has a name of its own is printed as it is by that name. */
        const named = !piece.rows && one.key && one.tree[0] === "name" && prints.get(one.tree[1]);
        prints.set(one.name, named || told(values.get(one.name), one.kind, rule));
      }
      const given = new Set(piece.givens.map((one) => one.name)), blamed = new Set();
      const early = (one) => one.level === "problem" && Array.from(names(one.tree)).every((name) => given.has(name));
      for (const one of piece.conditions.filter(early)) {
        const at = piece.name + (one.at ? "." + one.at : "");
        if (holds(one.tree, look)) continue;
        if (!blamed.has(at)) note(at, fault(filled(one.message), one.remedy));
        blamed.add(at);
      }
      if (blamed.size) throw UNSETTLED;
      for (const [name, law, others] of piece.rows || []) {
        const home = name.slice(0, name.lastIndexOf(".") + 1), full = (short) => others[short] || home + short;
        values.set(name, tried(() => valueOf(data.laws[law], (short) => look(full(short))), (error) => note(piece.name, error)));
        rested(name, Array.from(names(data.laws[law]), full));
      }
      for (const one of piece.dimensions) {
        const says = one.says[0].toLowerCase() + one.says.slice(1);
        row(one, tried(() => valueOf(one.tree, look), (error) => note(piece.name, fault(says + " has no value: " + error.message, error.hint))));
      }
      for (const one of piece.conditions.filter((each) => !early(each))) {
        if (one.level !== "problem") judge(one, piece.title);
        else if (!holds(one.tree, look)) {
          note(piece.name + (one.at ? "." + one.at : ""), fault(filled(one.message), one.remedy));
          bad = true;
        }
      }
      if (bad) throw UNSETTLED;
    }
    /* A profile against its blank, which may rest on anything, the profile too. */
    function fit(one, about) {
      try {
        const x = valueOf(one.tree, look);
        put(one.name, x, one.kind, one.value, print(x, one.kind, rule, "nearest"));
        judge(one.condition, about);
      } catch (error) {
        if (error instanceof Error) throw error;
      }
    }

    put("rule", step, "length", before, print(step, "length", rule, "nearest"));
    for (const size of data.sizes) {
      const x = chosen[size.name];
      const wrong = x === undefined ? null : unsound(size, x, rule.lead);
      if (wrong) note(size.name, wrong);
      if (wrong || x === undefined) failed.add(size.name);
      else put(size.name, x, size.kind, size.value, shown(x, size.kind, rule, size));
    }
    for (const name of pieces.keys()) settle(name);
    for (const piece of pieces.values()) for (const one of failed.has(piece.name) ? [] : piece.fits || []) fit(one, piece.title);
    const blanks = data.blanks.map((blank) => blank.sides.map((side) => {
      try {
        const what = "the blank's " + side.says, x = measured(side.tree, side.kind, blank.part, what, what);
        const old = Array.from(names(side.tree)).some((name) => stale.has(name));
        return { value: x, stale: old, printed: print(x, side.kind, rule, side.err) };
      } catch (error) {
        if (error !== UNSETTLED) throw error;
        return null;
      }
    }));
    /* A length that came out as none is still known, and a rule of the author's on it says what to do. */
    const known = (name) => off.has(name) ? off.get(name) : look(name);
    for (const one of data.keep) {
      try {
        tried(() => judge(one, "What the author asks", findings, known), (error) => note("keep", error));
      } catch (error) {
        if (error !== UNSETTLED) throw error;
      }
    }
    /* A safety box that these sizes call for, once, however many steps do. */
    const cautions = [];
    for (const one of data.cautions) {
      if (cautions.some((each) => each.about === one.about)) continue;
      try { judge(one, one.about, cautions); } catch (error) { if (error instanceof Error) throw error; }
    }
    return { hole: hole, cautions: cautions, values: values, prints: prints, kinds: kinds, rows: rows, moved: moved, stale: stale, failed: failed, problems: problems, findings: findings, unjudged: unjudged, blanks: blanks };
  }

  /* How a dimension was found, as its working says it. */
  function working(worked, name, rule) {
    const one = worked.rows.get(name), x = worked.values.get(name);
    const how = rounding(worked.prints.get(name), x, one.kind, rule.lead, one.err, one.fine);
    const result = exact(x, one.kind, rule.lead, "nearest", how ? 2 : 0);
    const numbers = written(one.tree, (each) => exact(worked.values.get(each), worked.kinds.get(each), rule.lead), 0);
    return {
      numbers: numbers === result ? "" : numbers,
      result: result,
      rounding: how
    };
  }

  const offered = { read: read, sized: sized, work: work, working: working, print: print, shown: shown, said: said };
  window.handoutsOwnSize = offered;
})();
