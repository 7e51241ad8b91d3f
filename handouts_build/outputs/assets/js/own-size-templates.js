/* Full-size templates at one's own size: strip, circles, octagon gauge, drawn in true millimeters.
   The drawings are those of the printed templates, line by line; measures and words come with the page's data.
   Every drawing is built as elements, never from text. */
(() => {
  "use strict";

  const own = window.handoutsOwnSize;
  if (!own) return;
  const { fill } = own;

  /* Room on a page that is US Letter or A4, in mm, without margins and words. */
  const WIDE = 180, TALL = 222;
  const SVG = "http://www.w3.org/2000/svg";

  /** @typedef {[x: number, y: number]} Point */
  /** @typedef {Record<string, string | number>} Attributes */
  /** @typedef {[tag: string, attributes: Attributes, text?: string]} Shape */
  /** @typedef {{ draw: DrawConstants, words: Words, value: (name: string) => number, printed: (name: string) => Printed | undefined,
   *   length: (x: number) => string, said: (name: string) => string, lead: (name: string) => string }} At */

  /** @param {number} x */
  const near = (x) => String(Number(x.toFixed(4)));

  /** @type {(tag: string, attributes: Attributes, text?: string) => Element} */
  const element = (tag, attributes, text) => {
    const made = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, typeof value === "number" ? near(value) : value);
    if (text !== undefined) made.textContent = text;
    return made;
  };

  /** @param {Point[]} points */
  const path = (points) => "M" + points.map((point) => point.map(near).join(",")).join("L");

  /* Marks in mm, y downward. */
  class Canvas {
    /** @param {DrawConstants} draw */
    constructor(draw) {
      this.draw = draw;
      /** @type {Shape[]} */
      this.shapes = [];
    }
    /** @param {string} kind */
    stroke(kind) {
      const dashes = this.draw.dashes[kind];
      return { fill: "none", stroke: "#000", "stroke-width": this.draw.pen, ...(dashes ? { "stroke-dasharray": dashes } : {}) };
    }
    /** @param {Point[]} points @param {string} [kind] @param {boolean} [closed] */
    line(points, kind = "mark", closed = false) {
      this.shapes.push(["path", { d: path(points) + (closed ? "Z" : ""), ...this.stroke(kind) }]);
    }
    /** @param {Point[]} points */
    solid(points) {
      this.shapes.push(["path", { d: path(points) + "Z", fill: "#000" }]);
    }
    /** @param {number} radius */
    circle(radius) {
      this.shapes.push(["circle", { cx: 0, cy: 0, r: radius, ...this.stroke("mark") }]);
    }
    /** @param {number} x @param {number} y @param {string} words @param {{ anchor?: string, turned?: boolean, bold?: boolean }} [manner] */
    text(x, y, words, { anchor = "start", turned = false, bold = false } = {}) {
      const { letter, drop } = this.draw;
      this.shapes.push(["text", {
        x, y: y + drop * letter, "font-family": "Handouts Sans", "font-size": letter, "text-anchor": anchor,
        ...(bold ? { "font-weight": "700" } : {}), ...(turned ? { transform: "rotate(-90 " + near(x) + " " + near(y) + ")" } : {})
      }, words]);
    }
    elements() {
      return this.shapes.map((shape) => element(...shape));
    }
    /** @param {number} x @param {number} y @param {number} width @param {number} height @param {string} alt @returns {Drawn} */
    drawn(x, y, width, height, alt) {
      const attributes = { width: near(width) + "mm", height: near(height) + "mm", viewBox: [x, y, width, height].map(near).join(" "), role: "img", "aria-label": alt };
      const svg = /** @type {SVGSVGElement} */ (element("svg", attributes));
      svg.append(...this.elements());
      return { svg, width, height, words: "" };
    }
  }

  /**
   * Whether lettering goes into some room, in mm.
   * @param {string} words
   * @param {number} room
   * @param {DrawConstants} draw
   */
  const fits = (words, room, { letter, widths, others: [small, large, sign] }) => {
    /** @param {string} char */
    const wide = (char) => widths.find(([letters]) => letters.includes(char))?.[1] ?? (/\p{Ll}/u.test(char) ? small : /\p{L}/u.test(char) ? large : sign);
    return letter * Array.from(words, wide).reduce((sum, width) => sum + width, 0) <= room;
  };

  /**
   * Where something long is cut: pieces of nearly equal length, clear of marks.
   * @param {number} length
   * @param {number} most
   * @param {number[]} clear
   * @param {number} margin
   */
  const cuts = (length, most, clear, margin) => {
    /** @param {number} start */
    const next = (start) => {
      const left = length - start, share = left / Math.ceil(left / most), steps = Math.floor(Math.min(most / 2, most - 1) * 4);
      for (let step = 0; step <= steps; step++) {
        for (const way of [1, -1]) {
          const wish = start + Math.min(most, Math.max(1, share + way * step / 4));
          if (clear.every((place) => Math.abs(wish - place) >= margin)) return wish;
        }
      }
      return start + share;
    };
    const joints = [];
    for (let start = 0; length - start > most + 1e-9;) joints.push(start = next(start));
    return joints;
  };

  /** @param {number} each */
  const letterOf = (each) => String.fromCharCode(65 + each % 26).repeat(Math.floor(each / 26) + 1);

  /**
   * A canvas in pieces, each with the tab and the marks that join it to the next.
   * @param {Canvas} canvas
   * @param {number} width
   * @param {number} bottom
   * @param {number[]} joints
   * @param {(y: number) => number} left
   * @param {string} alt
   */
  const pieces = (canvas, width, bottom, joints, left, alt) => {
    const draw = canvas.draw, edges = [0, ...joints, bottom], edge = draw.pen / 2;
    return edges.slice(1).map((end, each) => {
      const start = edges[each], last = each === joints.length, piece = new Canvas(draw);
      if (each) {
        const from = left(start), middle = (from + width) / 2;
        piece.line([[from, start], [width, start]], "cut");
        piece.solid([[middle - 1.5, start], [middle + 1.5, start], [middle, start + 1.5]]);
        piece.text(middle + 2.2, start + 1.9, letterOf(each - 1), { bold: true });
      }
      if (!last) {
        const from = left(end), middle = (from + width) / 2, letter = letterOf(each);
        piece.line([[from, end], [from, end + draw.tab], [width, end + draw.tab], [width, end]], "fold", true);
        piece.solid([[middle - 1.5, end], [middle + 1.5, end], [middle, end - 1.5]]);
        piece.text(middle + 2.2, end - 1.9, letter, { bold: true });
        const [long, short] = draw.glue.map((words) => fill(words, { letter, next: each + 2 }));
        piece.text(middle, end + draw.tab / 2, fits(long, width - from - 2, draw) ? long : short, { anchor: "middle" });
      }
      const words = joints.length ? fill(draw.piece, { number: each + 1, many: joints.length + 1 }) + " " : "";
      const made = piece.drawn(-edge, start - edge, width + 2 * edge, end - start + (last ? 0 : draw.tab) + 2 * edge, words + alt);
      const box = [-edge, start - edge, width + 2 * edge, end - start + 2 * edge];
      const clipped = element("svg", { x: box[0], y: box[1], width: box[2], height: box[3], viewBox: box.map(near).join(" "), overflow: "hidden" });
      clipped.append(...canvas.elements());
      made.svg.prepend(clipped);
      return { ...made, words };
    });
  };

  /** @type {(at: At) => Template | null} */
  const strip = ({ draw, words, value, length: told, said }) => {
    const count = Math.round(value("divisions")), length = Math.PI * value("diameter"), step = length / count, most = TALL - draw.tab - 1;
    if (!(step >= draw.closest) || length > most * draw.pieces) return null;
    const every = draw.numbered.find((each) => each * step >= draw.letter * 1.15) ?? draw.numbered[draw.numbered.length - 1];
    const marks = Array.from({ length: count + 1 }, (_, each) => each * step), canvas = new Canvas(draw), wide = draw.strip;
    const joints = cuts(length, most, marks, Math.min(4, step / 3));
    const values = { count, diameter: said("diameter"), around: told(length), step: said("arc") };
    marks.slice(0, -1).forEach((y, each) => {
      canvas.line([[0, y], [wide - 6, y]]);
      if (each % every === 0) canvas.text(1.2, y + draw.letter * 0.62, String(each + 1), { bold: true });
    });
    canvas.line([[0, 0], [0, length]], "cut");
    canvas.line([[wide, 0], [wide, length]], "cut");
    canvas.line([[0, 0], [wide, 0]], "cut");
    [0, ...joints].forEach((start, each) => {
      const end = each < joints.length ? joints[each] : length;
      const fitting = [words.long, words.short].map((saying) => fill(saying, values)).find((saying) => fits(saying, end - start - 6, draw));
      canvas.text(wide - 3, (start + end) / 2, fitting ?? "", { anchor: "middle", turned: true });
    });
    /* The end of the strip is its own beginning: the tab goes under mark 1. */
    canvas.line([[0, length], [0, length + draw.tab], [wide, length + draw.tab], [wide, length]], "fold");
    canvas.line([[0, length], [wide, length]], "fold");
    canvas.text(wide / 2, length + draw.tab / 2, words.tab, { anchor: "middle" });
    return {
      title: fill(words.title, values),
      use: fill(words.use, values),
      pieces: pieces(canvas, wide, length + draw.tab, joints, () => 0, fill(words.alt, values))
    };
  };

  /**
   * A circle to cut out, a center cross and lettering below; nothing where it is too large.
   * @param {DrawConstants} draw
   * @param {number} radius
   * @param {string[]} lines
   */
  const disc = (draw, radius, lines) => {
    const width = Math.max(2 * radius + 1, draw.least), height = 2 * radius + 1 + lines.length * draw.line;
    if (!(width <= WIDE && height <= TALL)) return null;
    const canvas = new Canvas(draw), arm = Math.min(4, radius / 2);
    canvas.circle(radius);
    canvas.line([[-arm, 0], [arm, 0]]);
    canvas.line([[0, -arm], [0, arm]]);
    lines.forEach((words, each) => canvas.text(0, radius + 0.5 + (each + 0.55) * draw.line, words, { anchor: "middle" }));
    /** @param {string} alt */
    const whole = (alt) => canvas.drawn(-width / 2, -radius - 0.5, width, height, alt);
    return { canvas, whole };
  };

  /** @type {(at: At) => Template | null} */
  const rays = ({ draw, words, value, printed, said }) => {
    const count = Math.round(value("divisions")), radius = value("diameter") / 2, angle = printed("angle");
    const values = { count, diameter: said("diameter"), angle: angle?.lead ?? "" };
    const made = disc(draw, radius, [fill(words.below, values)]);
    if (!made || count < 1 || 2 * Math.PI * radius / count < draw.closest) return null;
    /* Rays stop where they would blot the center, and numbers where they would touch. */
    const inner = Math.max(Math.min(5, radius / 2), draw.closest * count / (2 * Math.PI)), place = radius - draw.letter;
    const gap = 2 * Math.PI * Math.max(place, 0.1) / count, every = draw.numbered.slice(0, 4).find((each) => each * gap > 2.2 * draw.letter);
    for (let each = 0; each < count; each++) {
      const turn = 2 * Math.PI * each / count, x = Math.sin(turn), y = -Math.cos(turn);
      made.canvas.line([[inner * x, inner * y], [radius * x, radius * y]]);
      if (every && each % every === 0) made.canvas.text(place * x - 1.7 * y, place * y + 1.7 * x, String(each + 1), { anchor: "middle" });
    }
    return { title: fill(words.title, values), use: fill(words.use, values), pieces: [made.whole(fill(words.alt, values))] };
  };

  /** @type {(at: At) => Template | null} */
  const circles = ({ draw, words, value, said }) => {
    const values = { outer: said("diameter"), inner: said("side") };
    const made = disc(draw, value("diameter") / 2, [fill(words.outer, values), fill(words.inner, values)]);
    if (!made) return null;
    made.canvas.circle(value("side") / 2);
    return { title: words.title, use: fill(words.use, values), pieces: [made.whole(fill(words.alt, values))] };
  };

  /** @type {(at: At) => Template | null} */
  const gauge = ({ draw, words, value, said, lead }) => {
    const ball = value("diameter"), back = value("setback"), side = value("side"), right = ball / 2 + draw.card;
    if (!(right <= WIDE && ball <= TALL * draw.pieces)) return null;
    const canvas = new Canvas(draw), corner = fill(words.corner, { corner: lead("setback") });
    const values = { long: said("diameter"), corner: said("setback"), side: said("side") };
    /** @type {Point[]} */
    const outline = [[side / 2, 0], [ball / 2, back], [ball / 2, ball - back], [side / 2, ball]];
    /** @type {[y: number, words: string, inside: number][]} */
    const marks = [[0, words.end, 0.7], [back, corner, 0], [ball - back, corner, 0], [ball, fill(words.far, { long: lead("diameter") }), -0.7]];
    canvas.line([...outline, [right, ball], [right, 0]], "cut", true);
    canvas.line([[0, 0], [side / 2, 0]], "fold");
    canvas.line([[0, ball], [side / 2, ball]], "fold");
    canvas.line([[0, 0], [0, ball]], "axis");
    for (const [y, saying, inside] of marks) {
      canvas.line([[right - 6, y], [right, y]]);
      canvas.text(right - 7, y + inside * draw.letter, saying, { anchor: "end" });
    }
    for (const [saying, x] of /** @type {[string, number][]} */ ([[words.wood, ball / 4], [words.card, ball / 2 + 3]])) {
      if (fits(saying, ball - 2 * back - 2, draw)) canvas.text(x, ball / 2, saying, { anchor: "middle", turned: true });
    }
    const joints = cuts(ball, TALL - draw.tab - 1, marks.map(([y]) => y), 4);
    /** @param {number} y */
    const edge = (y) => Math.min(ball / 2, side / 2 + (ball - side) / 2 * Math.min(y, ball - y) / back);
    return { title: words.title, use: fill(words.use, values), pieces: pieces(canvas, right, ball, joints, edge, fill(words.alt, values)) };
  };

  const KINDS = { strip, rays, circles, gauge };

  /* The bars to measure before anything is cut: one above, one below. */
  own.bar = (draw) => {
    const canvas = new Canvas(draw);
    draw.bars.forEach(([length, parts, words], each) => {
      const y = each ? 4 : 0, way = each ? 1 : -1;
      for (let part = 0; part <= parts; part++) {
        const x = length * part / parts, whole = part % (parts === 10 ? 10 : 4) === 0, half = part % (parts === 10 ? 5 : 2) === 0;
        canvas.line([[x, y], [x, y + way * (whole ? 3 : half ? 2.2 : 1.4)]]);
      }
      canvas.line([[0, y], [length, y]]);
      canvas.text(length + 2, y + way * draw.letter * 0.45, words, { bold: true });
    });
    const longest = Math.max(...draw.bars.map(([length]) => length));
    return canvas.drawn(-0.2, -3.2, longest + 14, 10.4, draw.bar);
  };

  /* Every template that the values suffice for. */
  own.templates = (data, worked, rule, { print, said }) => {
    const draw = data.constants.draw;
    return data.templates.flatMap(({ piece, title, kinds }) => {
      /** @param {string} name */
      const value = (name) => worked.values.get(piece + "." + name) ?? NaN;
      /** @param {string} name */
      const printed = (name) => worked.prints.get(piece + "." + name);
      if (Number.isNaN(value("diameter")) || worked.stale.has(piece + ".diameter")) return [];
      return kinds.flatMap((kind) => {
        const made = KINDS[kind]({
          draw, words: draw.words[kind], value, printed,
          length: (x) => said(print(x, "length", rule, "nearest")),
          said: (name) => said(printed(name) ?? { lead: "–", other: "", off: 0 }),
          lead: (name) => printed(name)?.lead ?? "–"
        });
        return made ? [{ ...made, title: made.title + ": " + title }] : [];
      });
    });
  };
})();
