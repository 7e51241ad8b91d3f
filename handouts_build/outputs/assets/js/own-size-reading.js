/* Sizes as they are written, read exactly: `2 1/4 in`, `2¼ in`, `60 mm`. And whether a size can be what it is.
   The grammar, the units, the limits and the words of each refusal are the library's, and come with the page's data. */
(() => {
  "use strict";

  const own = window.handoutsOwnSize;
  if (!own) return;
  const { fill, Fault } = own;

  /** @typedef {[over: bigint, under: bigint]} Exact */

  /** @param {string} says */
  const label = (says) => "“" + says + "”";

  /**
   * The nearest binary number to over/under: enough bits, and one that says whether any were left.
   * @param {bigint} over
   * @param {bigint} under
   */
  const nearest = (over, under) => {
    const shift = Math.max(0, 70 + under.toString(2).length - over.toString(2).length);
    const wide = over << BigInt(shift);
    const bits = wide / under;
    return Number(wide % under ? bits | 1n : bits) / Math.pow(2, shift);
  };

  own.reading = ({ longest, longest_mm, units, vulgar, spelt, grammar, refusals, same }, { exact, general }) => {
    const [WHOLE, HYPHENED, COMMA, TWO, NUMBER, FRACTION] =
      [grammar.whole, grammar.hyphened, grammar.comma, grammar.two, grammar.number, grammar.fraction].map((source) => new RegExp(source));
    const EVERY_HYPHENED = new RegExp(HYPHENED, "g");

    /**
     * @param {string} name
     * @param {Record<string, string | number>} values
     * @param {string} [told] What a reader knows the size as.
     */
    const refused = (name, values, told) => {
      const [message, hint] = refusals[name];
      return new Fault(fill(message, values), fill(hint, values), told && fill(message, { ...values, what: told }));
    };

    /** @param {string} written @returns {Exact} */
    const fraction = (written) => {
      const text = written.replace(/\u00a0/g, " ").trim(), last = vulgar[text[text.length - 1]];
      if (last) return [BigInt(text.slice(0, -1).trim() || 0) * BigInt(last[1]) + BigInt(last[0]), BigInt(last[1])];
      const space = text.lastIndexOf(" "), whole = space < 0 ? "0" : text.slice(0, space), part = text.slice(space + 1);
      const [before, after = ""] = part.split(".");
      const [over, under] = part.includes("/") ? part.split("/").map(BigInt) : [BigInt(before + after), 10n ** BigInt(after.length)];
      if (!under) throw refused("divided", { text });
      return [BigInt(whole) * under + over, under];
    };

    /**
     * Why text could not be read, with its likeliest right form where there is one.
     * @param {string} text
     * @param {string} body
     */
    const unread = (text, body) => {
      const comma = COMMA.exec(body);
      if (comma) return Object.assign(refused("comma", { text, right: body.replace(",", ".") }), { offers: comma[1] });
      if (TWO.test(body)) return refused("two", { text });
      const number = NUMBER.exec(body);
      const word = number ? body.slice(number[0].length).trim().toLowerCase().replace(/[.s]+$/, "") : "";
      if (!number || !Object.hasOwn(spelt, word)) return Object.assign(refused("unread", { text }), { offers: "" });
      return Object.assign(refused("spelt", { text, right: number[0] + " " + spelt[word] }), { offers: spelt[word] });
    };

    /* In base units. */
    /** @type {Reading["read"]} */
    const read = (text) => {
      const written = text.trim(), long = Array.from(written).length;
      if (long > longest) throw refused("characters", { long: long.toLocaleString("en-US") });
      const less = /^[-−]/.test(written);
      const body = (less ? written.slice(1).trimStart() : written).replace(EVERY_HYPHENED, "$1 $2");
      const found = WHOLE.exec(body);
      if (!found) throw unread(written, body);
      const [over, under] = fraction(found[1]);
      const [kind, size, parts] = found[2] ? units[found[2]] : ["number", 1, 1];
      const value = kind === "length" ? nearest(over * BigInt(size), under * BigInt(parts)) : nearest(over, under) * size;
      return { value: less ? -value : value, kind };
    };

    /* The value of a size as typed; it throws a fault if the size cannot be that. */
    /** @type {Reading["sized"]} */
    const sized = (size, text, lead) => {
      const typed = text.trim(), right = size.wants;
      let found;
      try { found = read(text); } catch (error) {
        /* What is offered instead measures what this size measures. */
        if (error instanceof Fault && error.offers !== undefined && units[error.offers]?.[0] !== size.kind) error.hint = fill(refusals.bare[1], { right });
        throw error;
      }
      const { value, kind } = found;
      if (kind === "number" && FRACTION.test(typed)) throw refused("fraction", { text: typed, number: general(value, 6) });
      if (kind !== size.kind) throw refused(kind === "number" ? "bare" : "kind", { text: typed, kind: size.kind, right });
      const wrong = unsound(size, value, lead);
      if (wrong) throw wrong;
      return value;
    };

    /** @type {Reading["unsound"]} */
    const unsound = (size, x, lead) => {
      const what = "'" + size.name + "'", told = label(size.says), long = size.kind === "length" ? tooLong(x, what, told) : null;
      if (long) return long;
      if (x <= 0) return refused("nought", { what }, told);
      for (const [bound, limit, outside] of /** @type {const} */ ([["least", size.least, -1], ["most", size.most, 1]])) {
        if (limit !== undefined && Math.sign(x - limit) === outside) return refused("bounds", { what, bound, limit: exact(limit, size.kind, lead) }, told);
      }
      if (size.choices && !size.choices.some((choice) => Math.abs(choice.value - x) < same)) return refused("choices", { what }, told);
      return null;
    };

    /** @type {Reading["tooLong"]} */
    const tooLong = (x, what, told) => {
      if (x <= 0) return refused("length", { what, length: exact(x, "length", "in") + " (" + exact(x, "length", "mm") + ")" }, told);
      return x > longest_mm ? refused("long", { what }, told) : null;
    };

    return { read, sized, unsound, tooLong };
  };
})();
