/* Names for controls that the theme leaves without one. It may run any number of times. */
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
  }
  (window.document$ || { subscribe: function (run) { run(); } }).subscribe(init);
})();
