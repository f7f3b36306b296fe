/* The length keypad (templates/projects/_length_keypad.html). It edits the text of the field above it and nothing
   else; the server reads the text. What is tapped is kept with its unit, so that it means the same in every plan. */
(() => {
  "use strict";
  const MODES = ["fraction", "decimal", "mm", "type"];
  const KEPT = "length-mode";
  let mode = "type";

  // What was chosen last for plans in these units, or what suits a thumb or a keyboard.
  function firstMode(units) {
    let kept = null;
    // A browser that keeps nothing for pages throws here; the keypad works all the same.
    try { kept = localStorage.getItem(`${KEPT}-${units}`); } catch { kept = null; }
    if (MODES.includes(kept)) return kept;
    if (!matchMedia("(pointer: coarse)").matches) return "type";
    return units === "mm" ? "mm" : "fraction";
  }

  function keepMode(box, chosen) {
    try { localStorage.setItem(`${KEPT}-${box.dataset.units}`, chosen); } catch { /* for this page only, then */ }
    box.dataset.mode = chosen;
    document.querySelectorAll(".length").forEach(show);
  }

  function show(box) {
    const field = box.querySelector("input");
    mode = box.dataset.mode || firstMode(box.dataset.units);
    box.dataset.mode = mode;
    box.querySelector(".keypad").hidden = false;
    box.querySelector("[data-act=clear]").hidden = false;
    field.inputMode = mode === "type" ? "text" : "none";
    for (const key of box.querySelectorAll("[data-mode-key]")) {
      key.setAttribute("aria-pressed", String(key.dataset.modeKey === mode));
    }
    press(box, field);
  }

  // Show which fraction stands in the field.
  function press(box, field) {
    const now = readFraction(field.value)?.fraction;
    for (const key of box.querySelectorAll("[data-fraction]")) {
      key.setAttribute("aria-pressed", String(key.dataset.fraction === now));
    }
  }

  const withoutInch = (text) => text.replace(/\s*(in|"|″)\s*$/, "").trim();

  function readFraction(text) {
    const bare = withoutInch(text);
    if (/^\d*$/.test(bare)) return { whole: bare, fraction: "" };
    const parts = /^(?:(\d+)[ -]+)?(\d+\/\d+)$/.exec(bare);
    return parts && { whole: parts[1] ?? "", fraction: parts[2] };
  }

  function writeFraction({ whole, fraction }) {
    const text = [whole, fraction].filter(Boolean).join(" ");
    return text && `${text} in`;
  }

  function add(one, more) {
    const [top, bottom] = (one || "0/1").split("/").map(Number);
    const [moreTop, moreBottom] = more.split("/").map(Number);
    let sum = top * moreBottom + moreTop * bottom;
    let of = bottom * moreBottom;
    while (sum % 2 === 0 && of % 2 === 0) { sum /= 2; of /= 2; }
    return sum < of ? `${sum}/${of}` : one;
  }

  // Digits make the whole, a fraction key the fraction, in whatever order they come.
  function editFraction(text, key) {
    const now = readFraction(text) ?? { whole: "", fraction: "" };
    if (key.digit) now.whole = (now.whole + key.digit).replace(/^0+(?=\d)/, "");
    if (key.fraction) now.fraction = key.fraction;
    if (key.more) now.fraction = add(now.fraction, key.more);
    if (key.act === "back") {
      if (now.fraction) now.fraction = "";
      else now.whole = now.whole.slice(0, -1);
    }
    return writeFraction(now);
  }

  // Under an inch the first digit comes after the point; tap the point next to put it before.
  function editDecimal(text, key, unit, underOne) {
    let number = unit === "mm" ? text.replace(/\s*mm\s*$/, "").trim() : withoutInch(text);
    if (!/^\d*\.?\d*$/.test(number)) number = "";
    if (key.digit) number = (number || (underOne ? "0." : "")) + key.digit;
    if (key.act === "back") number = number === "0." ? "" : number.slice(0, -1);
    if (key.act === "point") {
      if (underOne && /^0\.\d$/.test(number)) number = `${number.slice(2)}.`;
      else if (!number.includes(".")) number = `${number || "0"}.`;
    }
    return number && `${number} ${unit}`;
  }

  function edit(box, text, key) {
    if (key.act === "clear") return "";
    if (mode === "fraction") return editFraction(text, key);
    const expected = Number(box.dataset.expectedIn);
    return editDecimal(text, key, mode === "mm" ? "mm" : "in", mode === "decimal" && expected > 0 && expected < 1);
  }

  document.addEventListener("click", (event) => {
    const key = event.target.closest(".length button");
    if (!key) return;
    const box = key.closest(".length");
    const field = box.querySelector("input");
    if (key.dataset.modeKey) {
      keepMode(box, key.dataset.modeKey);
      if (mode === "type") field.focus();
      return;
    }
    field.value = edit(box, field.value, key.dataset);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
  document.addEventListener("input", (event) => {
    const box = event.target.closest(".length");
    if (!box) return;
    press(box, event.target);
    // what stood there was understood of an older text
    const read = box.querySelector("output");
    if (read) read.textContent = event.target.value ? "…" : "";
  });
  // Fires for the page and for whatever htmx swaps in.
  document.addEventListener("htmx:load", (event) => {
    const root = event.target;
    if (root.matches?.(".length")) show(root);
    root.querySelectorAll(".length").forEach(show);
  });
})();
