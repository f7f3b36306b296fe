/* At the bench: keep the screen on, turn to the next step by an arrow key, take a double tap for one.
   Nothing needs it: the links and buttons work without. */
(() => {
  "use strict";
  const note = document.getElementById("awake");

  async function stayAwake() {
    if (!note || !("wakeLock" in navigator) || document.visibilityState !== "visible") return;
    try {
      const lock = await navigator.wakeLock.request("screen");
      note.hidden = false;
      lock.addEventListener("release", () => { note.hidden = true; });
    } catch {
      note.hidden = true; // a low battery, or the person's own setting: theirs to decide
    }
  }
  // the lock is lost whenever the page is hidden
  document.addEventListener("visibilitychange", stayAwake);
  stayAwake();

  document.addEventListener("keydown", (event) => {
    const rel = { ArrowLeft: "prev", ArrowRight: "next" }[event.key];
    const isPlain = !(event.altKey || event.ctrlKey || event.metaKey || event.shiftKey);
    if (!rel || !isPlain || event.target.closest("input, select, textarea")) return;
    document.querySelector(`a[rel="${rel}"]`)?.click();
  });

  // What was pressed is replaced at once: the second tap of two would tick the next step.
  document.addEventListener("click", (event) => {
    if (event.detail > 1 && event.target.closest("[data-once]")) {
      event.preventDefault();
      event.stopPropagation();
    }
  }, true);
})();
