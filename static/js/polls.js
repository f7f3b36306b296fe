/* A part of an open page that asks by itself (data-polls). Where an answer doesn't come, one quiet line says so until one does. */
(() => {
  "use strict";
  const isOurs = (event) => event.detail.requestConfig?.elt.matches("[data-polls]");
  const line = document.getElementById("poll-lost");
  const words = document.getElementById("poll-lost-words").content.textContent;

  function say(text) {
    if (line.textContent !== text) line.textContent = text; // said once, not at every try
  }

  for (const lost of ["htmx:sendError", "htmx:timeout", "htmx:responseError"])
    document.body.addEventListener(lost, (event) => {
      if (!isOurs(event)) return;
      event.stopPropagation(); // net.js would say it beside every try
      say(words);
    });

  document.body.addEventListener("htmx:beforeSwap", (event) => {
    if (!isOurs(event)) return;
    // signed out elsewhere: what came is another page
    const asked = new URL(event.detail.requestConfig.path, location.href).pathname;
    if (new URL(event.detail.xhr.responseURL).pathname !== asked) {
      event.detail.shouldSwap = false;
      location.reload();
    }
  });

  document.body.addEventListener("htmx:afterOnLoad", (event) => {
    if (isOurs(event) && event.detail.xhr.status < 400) say("");
  });
})();
