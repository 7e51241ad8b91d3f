/* Names for controls that the theme leaves without one, and a way for the keyboard into what scrolls. It may run any
   number of times. */
(function () {
  "use strict";
  function name(selector, words) {
    document.querySelectorAll(selector).forEach(function (one) {
      if (!one.hasAttribute("aria-label")) one.setAttribute("aria-label", words);
    });
  }
  function init() {
    name("[data-md-component=search]", "Search");
    name(".md-typeset .task-list-item input", "Done");
    /* Two navigations of one name cannot be told apart by ear. */
    document.querySelectorAll(".md-sidebar--primary nav[aria-label=Navigation]").forEach(function (one) {
      one.setAttribute("aria-label", "Pages");
    });
    document.querySelectorAll(".md-typeset__scrollwrap").forEach(function (one) { one.tabIndex = 0; });
  }
  (window.document$ || { subscribe: function (run) { run(); } }).subscribe(init);
})();
