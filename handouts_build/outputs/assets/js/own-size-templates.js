/* Full-size templates at one's own size: strip, circles, octagon gauge, drawn in true millimeters.
   Geometry and measures are those of the printed templates; the measures come with the page's data.
   Every drawing is built as elements, never from text. */
(function () {
  "use strict";

  const api = window.handoutsOwnSize;
  if (!api) return;

  /* Room on a page that is US Letter or A4, in mm, without margins and words. */
  const WIDE = 180, TALL = 222;
  const SVG = "http://www.w3.org/2000/svg";
  const DASHES = { fold: "2 1.2", axis: "5 1.2 0.8 1.2" };

  function near(x) {
    return String(Number(x.toFixed(4)));
  }

  function element(tag, attributes, text) {
    const made = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, typeof value === "number" ? near(value) : value);
    if (text !== undefined) made.textContent = text;
    return made;
  }

  /* Marks in mm, y downward. */
  function Canvas(draw) {
    const all = [];
    function stroke(kind) {
      return Object.assign({ fill: "none", stroke: "#000", "stroke-width": draw.pen }, DASHES[kind] ? { "stroke-dasharray": DASHES[kind] } : {});
    }
    this.all = all;
    this.line = function (points, kind, closed) {
      const path = "M" + points.map((one) => one.map(near).join(",")).join("L") + (closed ? "Z" : "");
      all.push(["path", Object.assign({ d: path }, stroke(kind))]);
    };
    this.solid = function (points) {
      all.push(["path", { d: "M" + points.map((one) => one.map(near).join(",")).join("L") + "Z", fill: "#000" }]);
    };
    this.circle = function (radius) {
      all.push(["circle", Object.assign({ cx: 0, cy: 0, r: radius }, stroke(""))]);
    };
    this.text = function (x, y, words, anchor, turned, bold) {
      const made = { x: x, y: y + 0.33 * draw.letter, "font-family": "Handouts Sans", "font-size": draw.letter, "text-anchor": anchor || "start" };
      if (turned) made.transform = "rotate(-90 " + near(x) + " " + near(y) + ")";
      if (bold) made["font-weight"] = "700";
      all.push(["text", made, words]);
    };
    this.svg = function (x, y, width, height, alt) {
      const made = element("svg", { width: near(width) + "mm", height: near(height) + "mm", viewBox: [x, y, width, height].map(near).join(" "), role: "img", "aria-label": alt });
      for (const one of all) made.append(element(...one));
      return { svg: made, width: width, height: height };
    };
  }

  /* Whether lettering surely goes into some room. */
  function fits(words, room, draw) {
    return words.length * 0.62 * draw.letter <= room;
  }

  /* Where something long is cut: pieces of nearly equal length, clear of marks. */
  function cuts(length, most, clear, margin) {
    const joints = [];
    let start = 0;
    while (length - start > most + 1e-9) {
      const left = length - start, share = left / Math.ceil(left / most), steps = Math.floor(Math.min(most / 2, most - 1) * 4);
      let joint = start + share;
      search: for (let step = 0; step <= steps; step++) {
        for (const way of [1, -1]) {
          const wish = start + Math.min(most, Math.max(1, share + way * step / 4));
          if (clear.every((place) => Math.abs(wish - place) >= margin)) { joint = wish; break search; }
        }
      }
      joints.push(joint);
      start = joint;
    }
    return joints;
  }

  /* A canvas in pieces, each with the tab and the marks that join it to the next. */
  function pieces(canvas, draw, width, bottom, joints, left, alt) {
    const edges = [0, ...joints, bottom], edge = draw.pen / 2;
    return edges.slice(1).map((end, each) => {
      const start = edges[each], last = each === joints.length, letter = (n) => String.fromCharCode(65 + n % 26);
      const piece = new Canvas(draw), height = end - start + (last ? 0 : draw.tab) + 2 * edge;
      if (each) {
        const from = left(start), middle = (from + width) / 2;
        piece.line([[from, start], [width, start]]);
        piece.solid([[middle - 1.5, start], [middle + 1.5, start], [middle, start + 1.5]]);
        piece.text(middle + 2.2, start + 1.9, letter(each - 1), "start", false, true);
      }
      if (!last) {
        const from = left(end), middle = (from + width) / 2;
        piece.line([[from, end], [from, end + draw.tab], [width, end + draw.tab], [width, end]], "fold", true);
        piece.solid([[middle - 1.5, end], [middle + 1.5, end], [middle, end - 1.5]]);
        piece.text(middle + 2.2, end - 1.9, letter(each), "start", false, true);
        piece.text(middle, end + draw.tab / 2, "glue " + letter(each), "middle");
      }
      const many = joints.length ? "Piece " + (each + 1) + " of " + (joints.length + 1) + ". " : "";
      const made = piece.svg(-edge, start - edge, width + 2 * edge, height, many + alt);
      const box = [-edge, start - edge, width + 2 * edge, end - start + 2 * edge];
      const window_ = element("svg", { x: box[0], y: box[1], width: box[2], height: box[3], viewBox: box.map(near).join(" "), overflow: "hidden" });
      for (const one of canvas.all) window_.append(element(...one));
      made.svg.prepend(window_);
      made.words = many;
      return made;
    });
  }

  function strip(draw, value, printed, rule) {
    const count = Math.round(value("divisions")), length = Math.PI * value("diameter"), step = length / count, most = TALL - draw.tab - 1;
    if (!(step >= draw.closest) || length > most * draw.pieces) return null;
    const every = [1, 2, 5, 10, 20, 50].find((each) => each * step >= draw.letter * 1.15 || each === 50);
    const marks = Array.from({ length: count + 1 }, (_, each) => each * step), canvas = new Canvas(draw), wide = draw.strip;
    const joints = cuts(length, most, marks, Math.min(4, step / 3)), around = api.said(api.print(length, "length", rule, "nearest"));
    marks.slice(0, -1).forEach((y, each) => {
      canvas.line([[0, y], [wide - 6, y]]);
      if (each % every === 0) canvas.text(1.2, y + draw.letter * 0.62, String(each + 1), "start", false, true);
    });
    canvas.line([[0, 0], [0, length]]);
    canvas.line([[wide, 0], [wide, length]]);
    canvas.line([[0, 0], [wide, 0]]);
    [0, ...joints].forEach((start, each) => {
      const end = each < joints.length ? joints[each] : length;
      const words = [count + " divisions around " + printed("diameter"), count + " divisions"].find((one) => fits(one, end - start - 6, draw));
      if (words) canvas.text(wide - 3, (start + end) / 2, words, "middle", true);
    });
    canvas.line([[0, length], [0, length + draw.tab], [wide, length + draw.tab], [wide, length]], "fold", true);
    canvas.text(wide / 2, length + draw.tab / 2, "glue", "middle");
    const alt = "Paper strip " + around + " long, to wrap around " + printed("diameter") + ", with " + count + " numbered marks and a glue tab beyond the end.";
    return {
      title: "Paper strip for " + count,
      use: "Wrap it around; the end line meets mark 1. It is " + around + " long. Paper about 0.1 mm thick makes it close about 0.3 mm short.",
      pieces: pieces(canvas, draw, wide, length + draw.tab, joints, () => 0, alt)
    };
  }

  function disc(draw, radius, lines) {
    const width = Math.max(2 * radius + 1, draw.least), height = 2 * radius + 1 + lines.length * draw.line;
    if (!(width <= WIDE && height <= TALL)) return null;
    const canvas = new Canvas(draw), arm = Math.min(4, radius / 2);
    canvas.circle(radius);
    canvas.line([[-arm, 0], [arm, 0]]);
    canvas.line([[0, -arm], [0, arm]]);
    lines.forEach((words, each) => canvas.text(0, radius + 0.5 + (each + 0.55) * draw.line, words, "middle"));
    canvas.whole = (alt) => Object.assign(canvas.svg(-width / 2, -radius - 0.5, width, height, alt), { words: "" });
    return canvas;
  }

  function rays(draw, value, printed) {
    const count = Math.round(value("divisions")), radius = value("diameter") / 2;
    const canvas = disc(draw, radius, [printed("diameter") + " across"]);
    if (!canvas || count < 1 || 2 * Math.PI * radius / count < draw.closest) return null;
    const inner = Math.max(Math.min(5, radius / 2), draw.closest * count / (2 * Math.PI)), place = radius - draw.letter;
    const gap = 2 * Math.PI * Math.max(place, 0.1) / count, every = [1, 2, 5, 10].find((each) => each * gap > 2.2 * draw.letter);
    for (let each = 0; each < count; each++) {
      const turn = 2 * Math.PI * each / count, x = Math.sin(turn), y = -Math.cos(turn);
      canvas.line([[inner * x, inner * y], [radius * x, radius * y]]);
      if (every && each % every === 0) canvas.text(place * x - 1.7 * y, place * y + 1.7 * x, String(each + 1), "middle");
    }
    const use = "Center it on the end grain and mark where the " + count + " rays meet the edge.";
    return { title: "End circle for " + count, use: use, pieces: [canvas.whole("Circle " + printed("diameter") + " across with a center cross and " + count + " numbered rays.")] };
  }

  function circles(draw, value, printed) {
    const canvas = disc(draw, value("diameter") / 2, ["outer circle " + printed("diameter"), "inner circle " + printed("side")]);
    if (!canvas) return null;
    canvas.circle(value("side") / 2);
    const use = "Center it on the end grain and prick the inner circle, " + printed("side") + " across: the corner cuts end there.";
    return { title: "End circles", use: use, pieces: [canvas.whole("Two circles about one center, " + printed("diameter") + " and " + printed("side") + " across.")] };
  }

  function gauge(draw, value, printed, rule) {
    const ball = value("diameter"), back = value("setback"), side = value("side"), right = ball / 2 + draw.card;
    if (!(right <= WIDE && ball <= TALL * draw.pieces)) return null;
    const canvas = new Canvas(draw), outline = [[side / 2, 0], [ball / 2, back], [ball / 2, ball - back], [side / 2, ball]];
    const corner = "corner " + printed("setback", true), marks = [[0, "end"], [back, corner], [ball - back, corner], [ball, "end " + printed("diameter", true)]];
    canvas.line([...outline, [right, ball], [right, 0]], "cut", true);
    canvas.line([[0, 0], [side / 2, 0]], "fold");
    canvas.line([[0, ball], [side / 2, ball]], "fold");
    canvas.line([[0, 0], [0, ball]], "axis");
    for (const [y, words] of marks) {
      canvas.line([[right - 6, y], [right, y]]);
      canvas.text(right - 7, y + (y === 0 ? 0.7 : y === ball ? -0.7 : 0) * draw.letter, words, "end");
    }
    for (const [words, x] of [["wood: cut away", ball / 4], ["card: keep", ball / 2 + 3]]) {
      if (fits(words, ball - 2 * back - 2, draw)) canvas.text(x, ball / 2, words, "middle", true);
    }
    const joints = cuts(ball, TALL - draw.tab - 1, marks.map((one) => one[0]), 4);
    const edge = (y) => y < back ? side / 2 + (ball - side) / 2 * y / back : y > ball - back ? side / 2 + (ball - side) / 2 * (ball - y) / back : ball / 2;
    const alt = "Card " + printed("diameter") + " long. Its straight edge has marks at both ends and " + printed("setback") + " in from each end; its other edge is half an octagon with sides of " + printed("side") + ".";
    return {
      title: "Octagon gauge",
      use: "Lay the straight edge along the cylinder; mark both ends, and the corners " + printed("setback") + " in. The cut-out edge fits half the octagon.",
      pieces: pieces(canvas, draw, right, ball, joints, edge, alt)
    };
  }

  const KINDS = { strip: strip, rays: rays, circles: circles, gauge: gauge };

  /* The bar to measure before anything is cut: 100 mm above, 4 in below. */
  function bar(draw) {
    const canvas = new Canvas(draw);
    for (const [length, parts, y, words] of [[100, 10, 0, "100 mm"], [101.6, 16, 4, "4 in"]]) {
      const way = y ? 1 : -1;
      for (let part = 0; part <= parts; part++) {
        const x = length * part / parts, whole = part % (parts === 10 ? 10 : 4) === 0, half = part % (parts === 10 ? 5 : 2) === 0;
        canvas.line([[x, y], [x, y + way * (whole ? 3 : half ? 2.2 : 1.4)]]);
      }
      canvas.line([[0, y], [length, y]]);
      canvas.text(length + 2, y + way * draw.letter * 0.45, words, "start", false, true);
    }
    return canvas.svg(-0.2, -3.2, 115.6, 10.4, "Bar to measure: 100 mm above, 4 in below.");
  }

  /* Every template that the values suffice for: title, use and pieces, each an element of true size. */
  api.templates = function (data, worked, rule) {
    const found = [];
    for (const one of data.templates) {
      for (const kind of one.kinds) {
        const value = (name) => worked.values.get(one.piece + "." + name);
        const printed = (name, lead) => { const p = worked.prints.get(one.piece + "." + name); return lead ? p.lead : api.said(p); };
        if (value("diameter") === undefined || worked.stale.has(one.piece + ".diameter")) continue;
        const made = KINDS[kind](data.draw, value, printed, rule);
        if (made) found.push(Object.assign(made, { title: made.title + ": " + one.title }));
      }
    }
    return found;
  };
  api.bar = bar;
})();
