/* A draft's page: a step is dragged to another place among the steps.
   It posts the move that the buttons in the step's form post; those stay for the keyboard.
   While a form is open nothing is dragged, so that nothing typed is lost. */
(() => {
  "use strict";
  let dragged = null;
  let to = -1;

  const lineOf = (event) => event.target.closest?.(".entries-steps > li") ?? null;

  function clear() {
    for (const line of document.querySelectorAll(".drop-before, .drop-after")) line.classList.remove("drop-before", "drop-after");
  }

  function send(line, index) {
    const draft = document.getElementById("draft");
    const values = {
      csrfmiddlewaretoken: draft.querySelector("[name=csrfmiddlewaretoken]").value,
      based_on: draft.querySelector("[name=based_on]").value,
      entry: line.querySelector(".entry").dataset.opens.replace("open=", ""),
      op: `move:${index}`,
    };
    htmx.ajax("POST", draft.dataset.here, { target: "#draft", swap: "outerHTML", values });
  }

  document.addEventListener("dragstart", (event) => {
    dragged = lineOf(event);
    if (!dragged) return;
    if (document.getElementById("draft-form")) {
      event.preventDefault();
      dragged = null;
      return;
    }
    event.dataTransfer.effectAllowed = "move";
  });
  document.addEventListener("dragover", (event) => {
    const line = dragged && lineOf(event);
    if (!line) return;
    event.preventDefault();
    const lines = [...line.parentElement.children];
    const box = line.getBoundingClientRect();
    const below = event.clientY > box.top + box.height / 2;
    const from = lines.indexOf(dragged);
    to = lines.indexOf(line) + (below ? 1 : 0);
    if (from < to) to -= 1;
    clear();
    line.classList.add(below ? "drop-after" : "drop-before");
  });
  document.addEventListener("drop", (event) => {
    const line = dragged && lineOf(event);
    if (!line) return;
    event.preventDefault();
    if (to !== [...line.parentElement.children].indexOf(dragged)) send(dragged, to);
  });
  document.addEventListener("dragend", () => {
    clear();
    dragged = null;
  });
})();
