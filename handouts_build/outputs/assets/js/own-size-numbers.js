/* Numbers as they are printed: shop fractions and decimals, rounded to the marks of a rule on the safe side.
   It is the counterpart of the library's printing and rounding, whose scales, steps and words it is given. */
(() => {
  "use strict";

  const own = window.handoutsOwnSize;
  if (!own) return;

  const NB = "\u00a0", MINUS = "−";

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
  const said = (printed) => printed.other ? printed.lead + " (" + printed.other + ")" : printed.lead;

  own.numbers = ({ inch, scales, unnamed, same, least, near, many, fine: FINE, fine_places, mm_places, unseen, rounded }) => {
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
      if (Math.abs(marks - nearest) <= near * Math.max(1, Math.abs(marks) / many)) return nearest;
      if (err === "over") return Math.ceil(marks);
      if (err === "under") return Math.floor(marks);
      return Math.floor(marks + 0.5 + near);
    };

    /**
     * At most so many decimals, or one digit that means something where these would make it nought.
     * @param {number} x
     * @param {number} places
     */
    const amount = (x, places) => {
      const text = decimal(x, places);
      return text === "0" && Math.abs(x) >= least ? decimal(x, -power(x)) : text;
    };

    /**
     * @param {number} x
     * @param {Scale} scale
     */
    const inScale = (x, { marks = 0, digits = 0, places = 0, ...scale }) => {
      const at = Math.round(x * marks);
      if (marks && Math.abs(at / marks - x) < same) return shop(at, marks);
      if (digits) return decimal(x, Number.isInteger(x) ? 0 : Math.max(0, digits - 1 - Number(x.toExponential().split("e")[1])));
      return scale.amount ? amount(x, places) : decimal(x, places);
    };

    /**
     * @param {string} kind
     * @param {Unit} lead
     */
    const scalesOf = (kind, lead) => scales[kind][lead === "mm" ? scales[kind].length - 1 : 0];

    /** @type {Numbers["exact"]} */
    const exact = (x, kind, lead) => {
      if (!Object.hasOwn(scales, kind)) return decimal(x, unnamed);
      const found = scalesOf(kind, lead).map((scale) => ({ scale, number: x * (scale.times ?? 1) / (scale.per ?? 1) }));
      const { scale, number } = found.find((told) => Math.abs(told.number) < (told.scale.below ?? Infinity)) ?? found[found.length - 1];
      return inScale(number, scale) + scale.unit;
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

    /** @type {Numbers["print"]} */
    const print = (x, kind, rule, err, fine, below) => {
      const last = otherThan(rule.lead);
      if (kind !== "length") {
        const two = Object.hasOwn(scales, kind) && scales[kind].length > 1;
        return { lead: exact(x, kind, rule.lead), other: two ? exact(x, kind, last) : "", off: 0 };
      }
      const step = fine ? FINE : rule;
      const marks = { in: mark(x * MM, step.in, err), mm: mark(x, step.mm, err) };
      /* A tenon stays below the mark of its hole. */
      if (below !== undefined && below > x) {
        marks.in = Math.min(marks.in, mark(below * MM, step.in, "nearest") - 1);
        marks.mm = Math.min(marks.mm, mark(below, step.mm, "nearest") - 1);
      }
      const over = marks.in * step.in[0], under = step.in[1];
      const text = {
        in: (fine ? decimal(over / under, fine_places) : shop(over, under)) + NB + "in",
        mm: decimal(marks.mm * step.mm[0] / step.mm[1], mm_places) + NB + "mm"
      };
      return { lead: text[rule.lead], other: text[last], off: inMm(rule.lead, marks[rule.lead], step[rule.lead]) - x };
    };

    /* A given: as it was told, and not rounded. */
    /** @type {Numbers["told"]} */
    const told = (x, kind, rule) => {
      const lead = exact(x, kind, rule.lead), other = exact(x, kind, otherThan(rule.lead));
      return { lead, other: other === lead ? "" : other, off: 0 };
    };

    /** @type {Numbers["rounding"]} */
    const rounding = (printed, kind, lead, err, fine) => {
      const off = printed.off;
      if (fine || kind !== "length" || Math.abs(off) < unseen) return "";
      const [scale] = scalesOf(kind, lead);
      const by = decimal(Math.abs(off) / (scale.per ?? 1), scale.places ?? 0) + scale.unit;
      return rounded[err] + ": " + printed.lead + ", " + by + " " + (off > 0 ? "over" : "under");
    };

    return { decimal, general, exact, print, told, said, rounding, step: (rule) => inMm(rule.lead, 1, rule[rule.lead]) };
  };
})();
