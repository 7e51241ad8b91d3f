/* Formulas as trees: their value, whether a comparison holds, the names they need, and how they are written.
   It is the counterpart of the library's `formulas`, whose limits, signs and words it is given. No unit is looked at:
   those of a project that was built are right. Nothing here is run from text. */
(() => {
  "use strict";

  const own = window.handoutsOwnSize;
  if (!own) return;
  const { fill, Fault } = own;

  const NB = "\u00a0", MINUS = "−", PI = "pi", COUNTED = "#";

  /**
   * @param {string} text
   * @param {boolean} need
   */
  const bracketed = (text, need) => need ? "(" + text + ")" : text;

  /** @type {Formulas["names"]} */
  const names = (tree, found = new Set()) => {
    if (tree[0] === "name") {
      if (tree[1] !== PI && tree[1] !== COUNTED) found.add(tree[1]);
    } else {
      for (const inside of tree) if (Array.isArray(inside)) names(inside, found);
    }
    return found;
  };

  own.formulas = ({ alike, whole, exponent, faults, binds, signs, called, powers }, { general }) => {
    /** @type {(steps: number, way: (x: number) => number) => number} */
    const stepped = (steps, way) => {
      const near = Math.round(steps);
      return Math.abs(steps - near) < whole ? near : way(steps);
    };
    /** @type {Record<string, (...values: number[]) => number>} */
    const CALLS = {
      abs: Math.abs, min: Math.min, max: Math.max, sqrt: Math.sqrt, exp: Math.exp,
      sin: Math.sin, cos: Math.cos, tan: Math.tan, asin: Math.asin, acos: Math.acos, atan: Math.atan,
      round_up: (x, step) => stepped(x / step, Math.ceil) * step, round_down: (x, step) => stepped(x / step, Math.floor) * step
    };

    /** @param {number} x */
    const finite = (x) => {
      if (!Number.isFinite(x)) throw new Fault(faults.large);
      return x;
    };

    /**
     * @param {string} name
     * @param {number[]} values
     */
    const call = (name, values) => {
      const [x, step] = values;
      if (name === "round_up" || name === "round_down") {
        if (step <= 0) throw new Fault(fill(faults.step, { function: name }));
        finite(x / step);
      }
      if (name === "sqrt" && x < 0) throw new Fault(faults.root);
      if (name === "exp" && x > exponent) throw new Fault(faults.large);
      if ((name === "asin" || name === "acos") && Math.abs(x) > 1) {
        if (Math.abs(x) > 1 + alike) throw new Fault(fill(faults.ratio, { function: name, number: general(x, 4) }));
        return CALLS[name](Math.sign(x));
      }
      return finite(CALLS[name](...values));
    };

    /** @type {Formulas["valueOf"]} */
    const valueOf = (tree, look) => {
      switch (tree[0]) {
        case "num": return tree[1];
        case "name": return tree[1] === PI ? Math.PI : look(tree[1]);
        case "neg": return -valueOf(tree[1], look);
        case "call": {
          const [, name, ...inside] = tree;
          return call(name, inside.map((each) => valueOf(each, look)));
        }
        case "sum": {
          let total = 0;
          for (let each = 0; each <= tree[1]; each++) total += valueOf(tree[2], (name) => name === COUNTED ? each : look(name));
          return total;
        }
      }
      const x = valueOf(tree[1], look), y = valueOf(tree[2], look);
      switch (tree[0]) {
        case "+": return finite(x + y);
        case "-": return finite(x - y);
        case "*": return finite(x * y);
        case "/":
          if (y === 0) throw new Fault(faults.divided);
          return finite(x / y);
        default: return finite(Math.pow(x, y));
      }
    };

    /** @type {Formulas["holds"]} */
    const holds = (tree, look) => {
      const [sign, left, right] = /** @type {[Sign, Tree, Tree]} */ (tree);
      const x = valueOf(left, look), y = valueOf(right, look), slack = alike * Math.max(Math.abs(x), Math.abs(y)), more = x - y;
      if (sign === "<") return more < -slack;
      if (sign === "<=") return more <= slack;
      return sign === ">" ? more > slack : more >= -slack;
    };

    /**
     * A formula with its numbers put in, brackets only where they are needed.
     * @param {Tree} tree
     * @param {(name: string) => string} say
     * @param {number} within
     * @returns {string}
     */
    const put = (tree, say, within) => {
      switch (tree[0]) {
        case "num": return tree[2].replace(/ deg/g, "°").replace(/ /g, NB);
        case "name": {
          if (tree[1] === PI) return "π";
          const text = say(tree[1]);
          return bracketed(text, text.startsWith(MINUS) && within > 0);
        }
        case "neg": return bracketed(MINUS + put(tree[1], say, binds.neg), within > 1);
        case "call": {
          const [, name, ...values] = tree, inside = values.map((each) => put(each, say, 0)).join(", ");
          if (name === "sqrt") return "√(" + inside + ")";
          return name === "abs" ? "|" + inside + "|" : (called[name] ?? name).replace(/_/g, " ") + "(" + inside + ")";
        }
        case "sum": return "Σ(" + put(tree[2], (name) => name === COUNTED ? name : say(name), 0) + ")";
      }
      const [sign, left, right] = tree, close = binds[sign];
      if (sign === "^") {
        const text = put(left, say, close + 1);
        const apart = (left[0] === "name" || left[0] === "num") && !text.startsWith("(") && /[\s°]/.test(text);
        return bracketed(bracketed(text, apart) + powers[String(right[2])], close < within);
      }
      const after = put(right, say, close + (sign === "-" || sign === "/" ? 1 : 0));
      return bracketed(put(left, say, close) + signs[sign] + after, close < within);
    };

    return { valueOf, holds, names, written: (tree, say) => put(tree, say, 0) };
  };
})();
