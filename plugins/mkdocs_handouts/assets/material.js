/* Names for controls that the theme leaves without one, and a way for the keyboard into what scrolls. It may run any
   number of times. */
(() => {
  "use strict";

  /** @type {(selector: string, words: string) => void} */
  const name = (selector, words) => {
    for (const control of document.querySelectorAll(selector)) {
      if (!control.hasAttribute("aria-label")) control.setAttribute("aria-label", words);
    }
  };
  const start = () => {
    name("[data-md-component=search]", "Search");
    name(".md-typeset .task-list-item input", "Done");
    /* Two navigations of one name cannot be told apart by ear. */
    for (const pages of document.querySelectorAll(".md-sidebar--primary nav[aria-label=Navigation]")) pages.setAttribute("aria-label", "Pages");
    for (const scrolled of document.querySelectorAll(".md-typeset__scrollwrap")) scrolled.setAttribute("tabindex", "0");
  };

  if (window.document$) window.document$.subscribe(start);
  else start();
})();
