"use strict";
// What is packed and ticked off stays ticked when the page is loaded again, in this browser.
// Each box is known by what stands beside it, so that a list printed anew keeps the ticks of what is still on it.
(function () {
  var key = JSON.parse(document.getElementById("data").textContent).key;
  var boxes = Array.from(document.querySelectorAll("input[type=checkbox]"));
  var ticked = [];
  try {
    var kept = JSON.parse(localStorage.getItem(key) || "[]");
    if (Array.isArray(kept)) { ticked = kept; }
  } catch (fault) { /* Nothing was kept, or this browser keeps nothing. */ }
  function name(box) { return box.closest("label").textContent.replace(/\s+/g, " ").trim(); }
  boxes.forEach(function (box) {
    box.checked = ticked.indexOf(name(box)) >= 0;
    box.addEventListener("change", function () {
      ticked = boxes.filter(function (one) { return one.checked; }).map(name);
      try { localStorage.setItem(key, JSON.stringify(ticked)); } catch (fault) { /* They hold until it is closed. */ }
    });
  });
})();
