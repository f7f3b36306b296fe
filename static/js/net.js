/* Say in plain words, beside the form, when a request came to nothing; send no form twice. The words are in base.html (#net-…). */
(() => {
  "use strict";
  const place = (element) => element.closest("form") ?? element.closest("td, li, section, main") ?? document.body;

  function forget(element) {
    place(element).querySelectorAll(":scope > [data-net]").forEach((line) => line.remove());
  }

  function tell(element, id) {
    const line = document.getElementById(id).content.firstElementChild.cloneNode(true);
    line.dataset.net = "";
    forget(element);
    place(element).append(line);
  }

  function lost(event) {
    const { elt, target, requestConfig } = event.detail;
    if (target?.matches("output")) target.replaceChildren(); // what it says is no longer what stands in the field
    tell(elt, requestConfig.verb === "get" ? "net-not-read" : "net-not-sent");
  }

  // The second click of two is not a second saying. Only for a moment: a file that comes leaves the page as it is.
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (event.defaultPrevented || form.method !== "post" || form.hasAttribute("hx-post")) return;
    if ("sent" in form.dataset) return event.preventDefault();
    form.dataset.sent = "";
    setTimeout(() => delete form.dataset.sent, 2000);
  });

  document.addEventListener("htmx:sendError", lost);
  document.addEventListener("htmx:timeout", lost);
  document.addEventListener("htmx:responseError", (event) => tell(event.detail.elt, "net-refused"));
  // htmx says this after a refusal too; and a read-out that arrives says nothing of a form that didn't.
  document.addEventListener("htmx:afterOnLoad", (event) => {
    const { elt, xhr, requestConfig } = event.detail;
    const isDone = xhr.status < 400 || xhr.status === 422;
    const isReadOut = requestConfig.verb === "get" && elt.matches("input");
    if (isDone && !isReadOut) forget(elt);
  });
})();
