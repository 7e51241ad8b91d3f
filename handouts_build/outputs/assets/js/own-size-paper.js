/* What is printed from the own-size panel: the dimensions on one sheet, and the full-size templates.
   It puts together what is worked out already and hands it to the browser; it works nothing out. */
(() => {
  "use strict";

  const own = window.handoutsOwnSize;
  if (!own) return;

  /** @param {OnPaper} at */
  const sheet = ({ data, make, said }) => {
    const home = make("section", "hb hb-sheet", make("h1", "", data.title));
    const table = document.querySelector(".hb-dimensions"), last = document.querySelector(".hb-last p");
    home.append(...said.before, ...(table ? [table.cloneNode(true)] : []), ...said.after);
    if (last) home.append(make("p", "hb-sheet__last", last.textContent ?? ""));
    return home;
  };

  /** @param {OnPaper} at */
  const cut = ({ data, worked, rule, arithmetic, show, make, said }) => {
    const home = make("section", "hb hb-sheet hb-sheet--cut", make("h1", "", own.fill(tr("{piece}: full-size templates"), { piece: data.title })));
    home.append(...said.before, ...said.after);
    home.append(make("p", "", data.constants.words.actual_size), own.bar(data.constants.draw).svg);
    const found = own.templates(data, worked, rule, arithmetic);
    if (!found.length) home.append(make("p", "", tr("At these sizes no template can be drawn.")));
    for (const template of found) {
      template.pieces.forEach((piece, each) => {
        const words = make("figcaption");
        show(words, template.title + ". " + piece.words + (each ? "" : template.use));
        home.append(make("figure", "hb-cut", words, piece.svg));
      });
    }
    return home;
  };

  /* Prints a paper, and leaves the page as it was. */
  own.paper = (kind, at) => {
    const paper = (kind === "sheet" ? sheet : cut)(at);
    document.querySelectorAll(".hb-sheet").forEach((other) => other.remove());
    document.body.append(paper);
    document.documentElement.classList.add("hb-print-own");
    window.addEventListener("afterprint", () => {
      document.documentElement.classList.remove("hb-print-own");
      paper.remove();
    }, { once: true });
    window.print();
  };
})();
