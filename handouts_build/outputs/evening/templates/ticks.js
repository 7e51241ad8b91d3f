/* What is packed and ticked off stays ticked when the page is loaded again, in this browser. Each box is known by
   what stands beside it, so that a list printed anew keeps the ticks of what is still on it. */
(() => {
  "use strict";

  const told = document.getElementById("data");
  /** @type {{ key: string }} */
  const { key } = JSON.parse(told?.textContent ?? "{}");
  const boxes = Array.from(document.querySelectorAll("input")).filter(({ type }) => type === "checkbox");
  /** @param {HTMLInputElement} box */
  const name = (box) => (box.closest("label")?.textContent ?? "").replace(/\s+/g, " ").trim();

  /** @type {string[]} */
  let ticked = [];
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? "[]");
    if (Array.isArray(kept)) ticked = kept;
  } catch { /* Nothing was kept, or this browser keeps nothing. */ }

  for (const box of boxes) {
    box.checked = ticked.includes(name(box));
    box.addEventListener("change", () => {
      ticked = boxes.filter(({ checked }) => checked).map(name);
      try {
        localStorage.setItem(key, JSON.stringify(ticked));
      } catch { /* They hold until the page is closed. */ }
    });
  }
})();
