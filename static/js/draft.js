/* A draft's page. Three things links and forms alone can't do:
   - pointing at a part in the drawing, then at another, offers what joins them (#draft-picked);
   - opening another entry first saves what was typed into the one that is open;
   - Ctrl+Z and Ctrl+Shift+Z press undo and redo. In a text field they are the browser's, and while something typed
     is not saved they do nothing, so that it is not lost. */
(() => {
  "use strict";
  let typed = false;

  function point(key) {
    const box = document.getElementById("draft-picked");
    const before = box.dataset.picked.split(" ").filter(Boolean);
    const keys = before.length === 1 && before[0] !== key ? [before[0], key] : [key];
    const query = keys.map((one) => `pick=${encodeURIComponent(one)}`).join("&");
    htmx.ajax("GET", `${document.getElementById("draft").dataset.here}?${query}`, { target: "#draft-picked", swap: "outerHTML" });
  }

  function mark() {
    const picked = document.getElementById("draft-picked")?.dataset.picked.split(" ") ?? [];
    for (const part of document.querySelectorAll(".draft-drawing [data-part]")) {
      part.classList.toggle("drawing-picked", picked.includes(part.dataset.part));
    }
  }

  // Save first, and let the answer open what was asked for.
  function saveThenOpen(form, entry) {
    const then = document.createElement("input");
    then.type = "hidden";
    then.name = "then";
    then.value = entry;
    form.append(then);
    form.querySelector("button[value=save]").click();
  }

  const isText = (element) => element.matches("textarea, input:not([type=checkbox], [type=radio], [type=file])");

  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.key.toLowerCase() !== "z") return;
    if (typed || isText(event.target)) return;
    event.preventDefault();
    document.querySelector(`.draft-bar button[value=${event.shiftKey ? "redo" : "undo"}]:enabled`)?.click();
  });
  document.addEventListener("click", (event) => {
    const part = event.target.closest(".draft-drawing [data-part]");
    if (part) point(part.dataset.part);
  });
  document.addEventListener("input", (event) => {
    if (event.target.closest("#draft-form")) typed = true;
  });
  document.addEventListener("htmx:confirm", (event) => {
    const link = event.detail.elt.closest("[data-opens]");
    const form = document.querySelector("#draft-form form");
    if (!link || !form || !typed) return;
    event.preventDefault();
    saveThenOpen(form, link.dataset.opens);
  });
  document.addEventListener("htmx:load", mark);
  document.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target.id === "draft") typed = false;
  });
})();
