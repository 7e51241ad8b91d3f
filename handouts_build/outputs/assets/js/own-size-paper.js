/* What is printed from the own-size panel: the dimensions on one sheet, and the full-size templates.
   It puts together what is worked out already and hands it to the browser; it works nothing out. */
(function () {
  "use strict";

  const api = window.handoutsOwnSize;
  if (!api) return;

  function sheet(at) {
    const home = at.make("section", "hb hb-sheet", at.make("h1", "", at.data.title));
    home.append(...at.said.before, document.querySelector(".hb-dimensions").cloneNode(true), ...at.said.after);
    const last = document.querySelector(".hb-last p");
    if (last) home.append(at.make("p", "hb-sheet__last", last.textContent));
    return home;
  }

  function cut(at) {
    const home = at.make("section", "hb hb-sheet hb-sheet--cut", at.make("h1", "", at.data.title + ": full-size templates"));
    home.append(...at.said.before, ...at.said.after);
    home.append(at.make("p", "", "Print at actual size (100 %), not fit to page; measure the bar before use."), api.bar(at.data.draw).svg);
    const found = api.templates(at.data, at.worked, at.rule);
    if (!found.length) home.append(at.make("p", "", "At these sizes no template can be drawn."));
    for (const one of found) {
      one.pieces.forEach((piece, each) => {
        const words = at.make("figcaption");
        at.show(words, one.title + ". " + piece.words + (each ? "" : one.use));
        home.append(at.make("figure", "hb-cut", words, piece.svg));
      });
    }
    return home;
  }

  /* Prints a paper, `sheet` or `cut`, and leaves the page as it was. */
  api.paper = function (kind, at) {
    const inside = (kind === "sheet" ? sheet : cut)(at);
    document.querySelectorAll(".hb-sheet").forEach((one) => one.remove());
    document.body.append(inside);
    document.documentElement.classList.add("hb-print-own");
    const done = () => {
      window.removeEventListener("afterprint", done);
      document.documentElement.classList.remove("hb-print-own");
      inside.remove();
    };
    window.addEventListener("afterprint", done);
    window.print();
  };
})();
