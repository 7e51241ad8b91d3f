/* A project worked at one's own size: everything that follows from the sizes, in the library's own order, with its
   rounding and its words. It evaluates the trees that gave the sheet its values, and knows nothing of the page. */
(() => {
  "use strict";

  const own = window.handoutsOwnSize;
  if (!own) return;
  const { fill, Fault } = own;

  /** Thrown where a value rests on another that is not to be had; what is wrong there has been noted already. */
  const UNSETTLED = Symbol("unsettled");

  /**
   * @template Key, Value
   * @param {Map<Key, Value>} map
   * @param {Key} key
   */
  const got = (map, key) => {
    const value = map.get(key);
    if (value === undefined) throw new Error("nothing is called " + key);
    return value;
  };

  /** @param {string} says */
  const label = (says) => "“" + says + "”";

  own.arithmetic = (constants) => {
    const numbers = own.numbers(constants.printing), reading = own.reading(constants.reading, numbers);
    const { exact, print, shown, said } = numbers, { valueOf, holds, names, written } = own.formulas(constants.formulas, numbers);
    const { alike, faults } = constants.formulas;

    /* A size that is missing among the chosen leaves out what rests on it. */
    /** @type {Arithmetic["work"]} */
    const work = (data, chosen, rule) => {
      const pieces = new Map(data.pieces.map((piece) => [piece.name, piece]));
      /* What settles a name: a piece of its own name, or the one that is named before its first dot. */
      /** @param {string} name */
      const base = (name) => pieces.has(name) ? name : name.split(".")[0];
      /** @type {Worked} */
      const worked = {
        values: new Map(), prints: new Map(), kinds: new Map(), rows: new Map(), moved: new Set(), stale: new Set(), failed: new Set(),
        problems: [], findings: [], cautions: [], unjudged: [], blanks: [],
        hole: (name) => {
          const value = name === undefined ? undefined : worked.values.get(name), printed = worked.prints.get(name ?? "");
          return value === undefined || !printed ? undefined : { value, printed };
        }
      };
      const { values, prints, kinds, rows, moved, stale, failed } = worked;
      /** @type {Map<string, number>} Lengths that came out as none. */
      const off = new Map();
      /** @type {Set<string>} */
      const done = new Set();

      /** @type {(name: string, x: number, kind: string, was: number, printed?: Printed) => void} */
      const put = (name, x, kind, was, printed) => {
        values.set(name, x);
        kinds.set(name, kind);
        if (printed) prints.set(name, printed);
        if (Math.abs(x - was) > alike * Math.max(Math.abs(x), Math.abs(was))) moved.add(name);
      };
      /** @type {(at: string, wrong: Fault) => void} */
      const note = (at, { message, hint, told }) => { worked.problems.push({ at, message, hint, told }); };
      /** @type {Look} */
      const look = (name) => {
        if (!values.has(name)) settle(base(name));
        const value = values.get(name);
        if (value === undefined) throw UNSETTLED;
        return value;
      };
      /** @type {<Result>(run: () => Result, wrong: (fault: Fault) => void) => Result} */
      const tried = (run, wrong) => {
        try { return run(); } catch (error) {
          if (!(error instanceof Fault)) throw error;
          wrong(error);
          throw UNSETTLED;
        }
      };
      /* Whether something could be settled; what is wrong with it is noted by whoever settles it. */
      /** @param {() => void} run */
      const settled = (run) => {
        try { run(); } catch (error) {
          if (error !== UNSETTLED) throw error;
          return false;
        }
        return true;
      };
      /** @type {(name: string, all: Iterable<string>) => void} */
      const rested = (name, all) => { for (const other of all) if (stale.has(other)) stale.add(name); };
      /** @type {(tree: Tree, kind: string, at: string, what: string, told: string, row?: Row | Given) => number} */
      const measured = (tree, kind, at, what, told, row) => {
        const x = tried(() => valueOf(tree, look), (fault) => note(at, new Fault(fault.message, fault.hint, fill(tr("{what} has no value at these sizes: {why}"), { what: told, why: fault.message }))));
        const wrong = kind === "length" && !(row && "signed" in row && row.signed) ? reading.tooLong(x, what, told) : null;
        if (!wrong) return x;
        if (x <= 0) wrong.told = fill(tr("{wrong}, and {hint}"), { wrong: wrong.told, hint: wrong.hint });
        note(at, wrong);
        if (row) {
          off.set(row.name, x);
          kinds.set(row.name, kind);
          prints.set(row.name, shown(x, kind, rule, row));
        }
        throw UNSETTLED;
      };
      /** @param {string} text */
      const filled = (text) => text.replace(/\{([a-z0-9_.]+)\}/g, (whole, name) => prints.has(name) ? said(got(prints, name)) : whole);
      /** @type {(condition: Condition, about: string, into?: OwnFinding[], find?: Look) => void} */
      const judge = (condition, about, into = worked.findings, find = look) => {
        const met = holds(condition.tree, find);
        if (Array.from(names(condition.tree)).some((name) => stale.has(name))) {
          worked.unjudged.push(about);
        } else if (!met) {
          const message = filled(condition.message), remedy = filled(condition.remedy), asked = Boolean(condition.says);
          const told = condition.says ? filled(condition.says).replace(/\.$/, "") + ". " + broken(condition.tree, find) : message;
          into.push({ level: condition.level, about, message, told, remedy, asked });
        }
      };
      /* The author's rule in words that a reader has seen on the page, and what came out instead. */
      /** @type {(tree: Tree, find: Look) => string} */
      const broken = (tree, find) => {
        const [op, left, right] = /** @type {[string, Tree, Tree]} */ (tree), must = constants.words.must[op];
        if (!must) return written(tree, called);
        const bound = fill(must, { bound: written(right, called) }), what = written(left, called);
        return left[0] === "name"
          ? fill(tr("{what} is {value}; it {must}"), { what, value: exact(find(left[1]), got(kinds, left[1]), rule.lead), must: bound })
          : what + " " + bound;
      };
      /** @param {string} name */
      const called = (name) => {
        if (name === "rule") return tr("the finest mark of your rule");
        const size = data.sizes.find((each) => each.name === name), piece = pieces.get(base(name));
        const says = size ? size.says : [...piece?.dimensions ?? [], ...piece?.givens ?? []].find((each) => each.name === name && each.says)?.says;
        return says ? !size && piece?.title ? fill(tr("{what} of {whole}"), { what: label(says), whole: label(piece.title) }) : label(says) : name.replace(/[._]/g, "\u00a0");
      };

      /** @param {Piece} piece */
      const needs = (piece) => {
        /** @type {Set<string>} */
        const all = new Set();
        if (piece.givens) for (const given of piece.givens) given.key && names(given.tree, all);
        else for (const row of piece.dimensions) names(row.tree, all);
        return Array.from(all, base).filter((name) => name !== "rule" && name !== piece.name);
      };
      /** @param {string} name */
      const settle = (name) => {
        const piece = pieces.get(name);
        if (!piece || done.has(name)) return;
        done.add(name);
        const needed = needs(piece);
        needed.forEach(settle);
        if (needed.some((other) => failed.has(other)) || !settled(() => piece.givens ? chapter(piece, piece.givens) : single(piece))) failed.add(name);
        if (!failed.has(name)) return;
        for (const other of Array.from(values.keys())) {
          if (base(other) !== name) continue;
          values.delete(other);
          rows.delete(other);
        }
      };
      /* What printed lengths come to; nothing of a formula that does more than add them up. */
      /** @type {(tree: Tree) => Pair | undefined} */
      const chained = (tree) => {
        if (tree[0] === "name") {
          const told = prints.get(tree[1]);
          return told?.in === undefined || told.mm === undefined ? undefined : [told.in, told.mm];
        }
        if (tree[0] !== "+" && tree[0] !== "-") return undefined;
        const left = chained(tree[1]), right = chained(tree[2]), way = tree[0] === "+" ? 1 : -1;
        return left && right && [left[0] + way * right[0], left[1] + way * right[1]];
      };
      /** @type {(plain: Row, x: number, chain?: Pair) => void} */
      const follows = (plain, x, chain) => {
        /* A neck, or a widest place, is rounded to the side of the station it is at. */
        const at = plain.at?.find(([name]) => values.get(name) === x);
        /** @type {Row} */
        const row = plain.at ? { ...plain, ...at ? at[1] : { err: "nearest" } } : plain;
        put(row.name, x, row.kind, row.value, shown(x, row.kind, rule, row, worked.hole(row.below), chain));
        rested(row.name, names(row.tree));
        rows.set(row.name, row);
      };
      /** @param {Piece} piece */
      const single = ({ dimensions: [row] }) => follows(row, measured(row.tree, row.kind, row.name, "'" + row.name + "'", label(row.says), row), chained(row.tree));

      /** @type {(piece: Piece, givens: Given[]) => void} */
      const chapter = (piece, givens) => {
        let sound = true;
        for (const given of givens) {
          const { key } = given;
          if (!key) continue;
          const what = given.what || key;
          sound = settled(() => {
            put(given.name, measured(given.tree, given.kind, piece.name + "." + key, what, given.says ? label(given.says) : what, given), given.kind, given.value);
            rested(given.name, names(given.tree));
          }) && sound;
        }
        if (!sound) throw UNSETTLED;
        for (const given of givens) {
          if (given.rests) {
            const line = given.lines?.find((each) => look(/** @type {string[]} */ (given.rests)[0]) <= each[0]);
            put(given.name, line ? line[1] : given.value, given.kind, given.value);
            if (given.rests.some((name) => stale.has(name) || !line && moved.has(name))) stale.add(given.name);
          } else if (!given.key) {
            put(given.name, valueOf(given.tree, look), given.kind, given.value);
            rested(given.name, names(given.tree));
          }
          /* What has a name of its own is printed as it is by that name. */
          const named = !piece.rows && given.key && given.tree[0] === "name" ? prints.get(given.tree[1]) : undefined;
          prints.set(given.name, named ?? numbers.told(got(values, given.name), given.kind, rule));
        }
        demand(piece, givens);
        for (const [name, law, others] of piece.rows ?? []) {
          const home = name.slice(0, name.lastIndexOf(".") + 1);
          /** @param {string} short */
          const full = (short) => others[short] || home + short;
          values.set(name, tried(() => valueOf(data.laws[law], (short) => look(full(short))), (fault) => note(piece.name, fault)));
          rested(name, Array.from(names(data.laws[law]), full));
        }
        for (const row of piece.dimensions) {
          const what = row.says[0].toLowerCase() + row.says.slice(1);
          follows(row, tried(() => valueOf(row.tree, look), (fault) => note(piece.name, new Fault(fill(faults.valueless, { what, why: fault.message }), fault.hint))), row.chain && chained(row.chain));
        }
        conclude(piece, givens);
      };
      /* Conditions without which nothing is worked out: those on what is given are asked before anything follows. */
      /** @type {(condition: Condition, givens: Given[]) => boolean} */
      const early = (condition, givens) => condition.level === "problem" &&
        Array.from(names(condition.tree)).every((name) => givens.some((given) => given.name === name));
      /** @type {(piece: Piece, condition: Condition) => string} */
      const blamed = (piece, condition) => piece.name + (condition.at ? "." + condition.at : "");
      /** @type {(piece: Piece, givens: Given[]) => void} */
      const demand = (piece, givens) => {
        const told = new Set();
        for (const condition of piece.conditions ?? []) {
          if (!early(condition, givens) || holds(condition.tree, look)) continue;
          const at = blamed(piece, condition);
          if (!told.has(at)) note(at, new Fault(filled(condition.message), condition.remedy));
          told.add(at);
        }
        if (told.size) throw UNSETTLED;
      };
      /** @type {(piece: Piece, givens: Given[]) => void} */
      const conclude = (piece, givens) => {
        let sound = true;
        for (const condition of piece.conditions ?? []) {
          if (early(condition, givens)) continue;
          if (condition.level !== "problem") judge(condition, piece.title);
          else if (!holds(condition.tree, look)) {
            note(blamed(piece, condition), new Fault(filled(condition.message), condition.remedy));
            sound = false;
          }
        }
        if (!sound) throw UNSETTLED;
      };
      /* What cannot be asked is not asked; what is wrong has been noted where it arose. */
      /** @param {() => void} ask */
      const where = (ask) => {
        try { ask(); } catch (error) {
          if (error !== UNSETTLED && !(error instanceof Fault)) throw error;
        }
      };

      const mark = numbers.step(rule);
      put("rule", mark, "length", numbers.step(data.rule), print(mark, "length", rule, "nearest"));
      for (const size of data.sizes) {
        const x = chosen[size.name];
        if (x === undefined) {
          failed.add(size.name);
          continue;
        }
        const wrong = reading.unsound(size, x, rule.lead);
        if (wrong) {
          note(size.name, wrong);
          failed.add(size.name);
        } else put(size.name, x, size.kind, size.value, shown(x, size.kind, rule, size));
      }
      for (const name of pieces.keys()) settle(name);
      /* A profile against its blank, which may rest on anything, the profile too. */
      for (const piece of pieces.values()) {
        for (const fit of failed.has(piece.name) ? [] : piece.fits ?? []) {
          where(() => {
            const x = valueOf(fit.tree, look);
            put(fit.name, x, fit.kind, fit.value, print(x, fit.kind, rule, "nearest"));
            judge(fit.condition, piece.title);
          });
        }
      }
      worked.blanks = data.blanks.map((blank) => blank.sides.map((side) => {
        /** @type {{ value: number, stale: boolean, printed: Printed } | null} */
        let found = null;
        settled(() => {
          const value = measured(side.tree, side.kind, blank.part, side.says, side.says);
          found = { value, stale: Array.from(names(side.tree)).some((name) => stale.has(name)), printed: print(value, side.kind, rule, side.err) };
        });
        return found;
      }));
      /* A length that came out as none is still known, and a rule of the author's on it says what to do. */
      /** @type {Look} */
      const known = (name) => off.get(name) ?? look(name);
      for (const condition of data.keep) {
        settled(() => tried(() => judge(condition, constants.words.asked, worked.findings, known), (fault) => note("keep", fault)));
      }
      /* A safety box that these sizes call for, once, however many steps do. */
      for (const caution of data.cautions) {
        if (!worked.cautions.some((each) => each.about === caution.about)) where(() => judge(caution, caution.about, worked.cautions));
      }
      return worked;
    };

    /* How a dimension was found, as its working says it. */
    /** @type {Arithmetic["working"]} */
    const working = (worked, name, rule) => {
      const row = got(worked.rows, name), x = got(worked.values, name);
      const rounding = numbers.rounding(got(worked.prints, name), x, row.kind, rule.lead, row.err, row.fine);
      const result = exact(x, row.kind, rule.lead, "nearest", rounding ? numbers.more : 0);
      const put = written(row.tree, (each) => exact(got(worked.values, each), got(worked.kinds, each), rule.lead));
      return {
        numbers: put === result ? "" : put,
        result,
        rounding
      };
    };

    return { read: reading.read, sized: reading.sized, print, shown, said, work, working };
  };
})();
