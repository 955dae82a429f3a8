"use strict";
// The page works without this file; here is only comfort: folds, focus, a word when the line is down.
(() => {
  const folds = new Map(); // what the reader opened and closed, by id, so that a swapped part keeps it
  const unfold = (element) => {
    for (let fold = element.closest("details"); fold; fold = fold.parentElement.closest("details")) {
      fold.open = true;
      if (fold.id) folds.set(fold.id, true);
    }
  };
  const unfoldTarget = () => {
    const id = decodeURIComponent(location.hash.slice(1));
    const target = id && document.getElementById(id);
    if (target) { unfold(target); target.scrollIntoView(); }
  };
  addEventListener("hashchange", unfoldTarget);
  addEventListener("DOMContentLoaded", unfoldTarget);
  addEventListener("beforeprint", () => document.querySelectorAll("details.part").forEach((fold) => { fold.open = true; }));

  document.addEventListener("click", (event) => {
    const summary = event.target.closest && event.target.closest("summary");
    const fold = summary && summary.parentElement;
    if (fold && fold.id) folds.set(fold.id, !fold.open);
  });
  document.addEventListener("htmx:load", (event) => {
    const root = event.detail.elt;
    if (!root.querySelectorAll) return;
    for (const fold of [root, ...root.querySelectorAll("details[id]")]) {
      if (fold.matches("details[id]") && folds.has(fold.id) && !fold.querySelector("[aria-invalid]")) fold.open = folds.get(fold.id);
    }
    const form = root.matches("#add-reading") ? root : root.querySelector("#add-reading [autofocus]") && root.querySelector("#add-reading");
    if (form) { unfold(form); form.scrollIntoView({ block: "center" }); }
  });

  // htmx asks for the block itself; of a link inside SVG it does not stop the ordinary way.
  document.addEventListener("click", (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey || !window.htmx) return;
    if (event.target.closest && event.target.closest("svg a[hx-get]")) event.preventDefault();
  });

  const tell = (text) => { const told = document.getElementById("told"); if (told) told.textContent = text; };
  document.addEventListener("htmx:sendError", () => tell("No connection. Nothing was kept; try again."));
  document.addEventListener("htmx:timeout", () => tell("No answer in time; try again."));
})();
