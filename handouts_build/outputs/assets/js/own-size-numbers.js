/* Numbers as they are printed: shop fractions and decimals, rounded to the marks of a rule on the safe side.
   It is the counterpart of the library's printing and rounding, whose scales, steps and words it is given. */
(() => {
  "use strict";

  const own = window.handoutsOwnSize;
  if (!own) return;

  const NB = "\u00a0", MINUS = "−", AMOUNT = "{amount}";

  /**
   * Digits of |x| rounded half to even, as Python rounds: toFixed takes the larger of two equally near.
   * @param {number} x
   * @param {number} places
   */
  const digits = (x, places) => {
    if (x >= 1e21) return BigInt(x).toString();
    const most = Math.min(places, 60);
    const up = x.toFixed(most), long = x.toFixed(most + 40), cut = long.length - 40;
    if (!/^50*$/.test(long.slice(cut))) return up;
    const down = long.slice(0, cut).replace(/\.$/, "");
    return "02468".includes(down[down.length - 1]) ? down : up;
  };

  /** @param {number} x */
  const power = (x) => Number(x.toExponential(6).split("e")[1]);

  /** @param {string} text */
  const shortened = (text) => text.includes(".") ? text.replace(/\.?0+$/, "") : text;

  /** @type {Numbers["decimal"]} */
  const decimal = (x, places) => {
    const [whole, ...part] = shortened(digits(Math.abs(x), places)).split(".");
    const text = [whole.replace(/\B(?=(\d{3})+$)/g, ","), ...part].join(".");
    return x < 0 && text !== "0" ? MINUS + text : text;
  };

  /** @type {Numbers["general"]} */
  const general = (x, most) => {
    const [head, tail] = x.toExponential(most - 1).split("e"), size = Math.abs(Number(tail));
    if (Number(tail) >= -4 && Number(tail) < most) return shortened(x.toFixed(most - 1 - Number(tail)));
    return head.replace(/\.?0+$/, "") + "e" + (Number(tail) < 0 ? "-" : "+") + (size < 10 ? "0" : "") + size;
  };

  /**
   * @param {number} over
   * @param {number} under
   */
  const shop = (over, under) => {
    let [common, rest] = [Math.abs(over), under];
    while (rest) [common, rest] = [rest, common % rest];
    const above = Math.abs(over) / common, below = under / common, sign = over < 0 ? MINUS : "";
    const whole = Math.floor(above / below), part = above % below;
    if (!part) return sign + whole;
    return sign + (whole ? whole + NB : "") + part + "/" + below;
  };

  /** @type {Numbers["said"]} */
  const said = ({ lead, other, way }) => {
    if (!other) return lead;
    const [before = "", after = ""] = (way ?? "").split(AMOUNT);
    const amount = lead.slice(before.length, lead.length - after.length) + " (" + other + ")";
    return way ? way.replace(AMOUNT, amount) : amount;
  };

  own.numbers = ({ inch, scales, unnamed, same, least, near, half, more: MORE, fine: FINE, fine_places, mm_places, unseen, rounded }) => {
    /* How long an inch is in mm, and a mm in inches. */
    const IN = inch[0] / inch[1], MM = 1 / IN;

    /**
     * The number of steps to the mark that a value is rounded to.
     * @param {number} value
     * @param {Pair} step
     * @param {Side} err
     */
    const mark = (value, step, err) => {
      const marks = value / (step[0] / step[1]), nearest = Math.round(marks);
      if (Math.abs(marks - nearest) <= near) return nearest;
      if (err === "over") return Math.ceil(marks);
      if (err === "under") return Math.floor(marks);
      return Math.floor(marks + 0.5 + half);
    };

    /**
     * At most so many decimals, on the side that is safe.
     * @param {number} x
     * @param {number} places
     * @param {Side} err
     */
    const sided = (x, places, err) => {
      const under = Math.pow(10, places);
      return decimal(err === "nearest" ? x : mark(x, [1, under], err) / under, places);
    };

    /**
     * At most so many decimals, or one digit that means something where these would make it nought.
     * @param {number} x
     * @param {number} places
     * @param {Side} err
     */
    const amount = (x, places, err) => {
      const text = sided(x, places, err);
      return text === "0" && Math.abs(x) >= least ? sided(x, -power(x), err) : text;
    };

    /**
     * @param {number} x
     * @param {Scale} scale
     * @param {Side} err
     * @param {number} more
     */
    const inScale = (x, { digits = 0, places = 0, ...scale }, err, more) => {
      if (digits) return Number.isInteger(x) ? decimal(x, 0) : sided(x, Math.max(0, digits - 1 - Number(x.toExponential().split("e")[1])) + more, err);
      return scale.amount ? amount(x, places + more, err) : sided(x, places + more, err);
    };

    /**
     * A length in a scale's unit, as a fraction: on one of its marks where it is, else to its decimals.
     * @type {(x: number, scale: Scale, err: Side) => Pair}
     */
    const onScale = (x, { marks = 0, places = 0 }, err) => {
      const at = Math.round(x * marks), under = Math.pow(10, places);
      return marks && Math.abs(at / marks - x) < same ? [at, marks] : [mark(x, [1, under], err), under];
    };

    /**
     * @param {string} kind
     * @param {Unit} lead
     */
    const scalesOf = (kind, lead) => scales[kind][lead === "mm" ? scales[kind].length - 1 : 0];

    /** @type {Numbers["exact"]} */
    const exact = (x, kind, lead, err = "nearest", more = 0) => {
      if (!Object.hasOwn(scales, kind)) return sided(x, unnamed + more, err);
      const found = scalesOf(kind, lead).map((scale) => ({ scale, number: x * (scale.times ?? 1) / (scale.per ?? 1) }));
      const { scale, number } = found.find((told) => Math.abs(told.number) < (told.scale.below ?? Infinity)) ?? found[found.length - 1];
      if (kind !== "length") return inScale(number, scale, err, more) + scale.unit;
      const [over, under] = onScale(number, scale, err);
      return (scale.marks && Number.isInteger(scale.marks * over / under) ? shop(over, under) : decimal(over / under, scale.places ?? 0)) + scale.unit;
    };

    /** @param {Unit} lead @returns {Unit} */
    const otherThan = (lead) => lead === "in" ? "mm" : "in";

    /**
     * Marks of the leading rule in mm.
     * @param {Unit} lead
     * @param {number} marks
     * @param {Pair} step
     */
    const inMm = (lead, marks, step) => lead === "in" ? marks * step[0] * inch[0] / (step[1] * inch[1]) : marks * step[0] / step[1];

    /**
     * The steps to the mark of a length in one unit. A tenon's follow from the printed size of its hole, so that the
     * two fit as they are read.
     * @type {(x: number, unit: Unit, step: Pair, err: Side, hole?: Hole) => number}
     */
    const marked = (x, unit, step, err, hole) => {
      /** @param {number} length */
      const size = (length) => unit === "in" ? length * MM : length;
      const told = hole?.printed[unit];
      if (!hole || told === undefined) return mark(size(x), step, err);
      const at = mark(size(x) + (told - size(hole.value)), step, err);
      return x < hole.value ? Math.min(at, mark(told, step, "over") - 1) : at;
    };

    /**
     * The steps to the mark that printed lengths come to, where it is one and on the safe side of the length.
     * @type {(told: number, size: number, step: Pair, err: Side) => number}
     */
    const closed = (told, size, step, err) => {
      const at = mark(told, step, "nearest"), one = step[0] / step[1], off = at * one - size, slack = one * near;
      const unsafe = err === "over" && off < -slack || err === "under" && off > slack;
      return at > 0 && Math.abs(at * one - told) <= slack && !unsafe ? at : 0;
    };

    /** @type {Numbers["print"]} */
    const print = (x, kind, rule, err, fine, hole, chain) => {
      const last = otherThan(rule.lead);
      if (kind !== "length") {
        const two = Object.hasOwn(scales, kind) && scales[kind].length > 1;
        return { lead: exact(x, kind, rule.lead, err), other: two ? exact(x, kind, last, err) : "", off: 0 };
      }
      const step = fine ? FINE : rule;
      const marks = { in: marked(x, "in", step.in, err, hole), mm: marked(x, "mm", step.mm, err, hole) };
      if (chain && !fine && !hole) {
        marks.in = closed(chain[0], x * MM, step.in, err) || marks.in;
        marks.mm = closed(chain[1], x, step.mm, err) || marks.mm;
      }
      const over = marks.in * step.in[0], under = step.in[1], mm = marks.mm * step.mm[0] / step.mm[1];
      const text = {
        in: (fine ? decimal(over / under, fine_places) : shop(over, under)) + NB + "in",
        mm: decimal(mm, mm_places) + NB + "mm"
      };
      const off = inMm(rule.lead, marks[rule.lead], step[rule.lead]) - x;
      return { lead: text[rule.lead], other: text[last], off, in: over / under, mm };
    };

    /* A value as it is, such as a given or a bit, and not rounded to a mark. */
    /** @type {Numbers["told"]} */
    const told = (x, kind, rule, err = "nearest") => {
      const lead = exact(x, kind, rule.lead, err), other = exact(x, kind, otherThan(rule.lead), err);
      const made = { lead, other: other === lead ? "" : other, off: 0 };
      if (kind !== "length") return made;
      const [[inches], [metric]] = scales.length, [over, under] = onScale(x / IN, inches, err), [mm, parts] = onScale(x, metric, err);
      return { ...made, in: over / under, mm: mm / parts };
    };

    /* A value in its manner. */
    /** @type {Numbers["shown"]} */
    const shown = (x, kind, rule, { err, fine, exact: asItIs, ways }, hole, chain) => {
      if (asItIs && kind === "length") return told(x, kind, rule, err);
      const made = print(x, kind, rule, err ?? "nearest", fine, hole, chain);
      return ways ? worded(made, ways) : made;
    };

    /* A change with words in the place of its sign; none of no change that is seen. */
    /** @type {(made: Printed, ways: [more: string, less: string]) => Printed} */
    const worded = (made, ways) => {
      const below = made.lead.startsWith(MINUS), way = made.lead.startsWith("0" + NB) ? "" : ways[below ? 1 : 0];
      const lead = made.lead.slice(below ? 1 : 0);
      return { ...made, lead: way ? way.replace(AMOUNT, lead) : lead, other: made.other.replace(MINUS, ""), way };
    };

    /** @type {Numbers["rounding"]} */
    const rounding = (printed, x, kind, lead, err, fine) => {
      const off = printed.off;
      if (kind !== "length") return printed.lead === exact(x, kind, lead) ? "" : rounded[err] + ": " + printed.lead;
      if (fine || Math.abs(off) < unseen) return "";
      const [scale] = scalesOf(kind, lead);
      const by = decimal(Math.abs(off) / (scale.per ?? 1), scale.places ?? 0) + scale.unit;
      return rounded[err] + ": " + printed.lead + ", " + by + " " + (off > 0 ? "over" : "under");
    };

    return { decimal, general, exact, print, told, shown, said, rounding, more: MORE, step: (rule) => inMm(rule.lead, 1, rule[rule.lead]) };
  };
})();
