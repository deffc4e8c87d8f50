// The page is complete without this. It only makes the entry line quicker: a line is read as it is typed, and Enter
// keeps what was understood.
"use strict";

const form = document.querySelector("form.line");
const heard = document.getElementById("heard");

if (form && heard) {
  const input = form.elements.line;
  let asked = 0;
  let waiting = null;
  if (heard.childElementCount > 0) {
    heard.dataset.line = input.value.trim();
    input.focus();
  }

  const read = async () => {
    const line = input.value.trim();
    const mine = ++asked;
    if (!line) {
      heard.replaceChildren();
      return;
    }
    const address = new URL(form.dataset.heard, location.href);
    address.searchParams.set("line", line);
    address.searchParams.set("page", form.dataset.page);
    try {
      const answer = await fetch(address);
      const text = await answer.text();
      if (mine === asked) {
        heard.innerHTML = text;
        heard.dataset.line = line;
      }
    } catch {
      // Without an answer the form still works by its button.
    }
  };

  input.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(read, 120);
  });

  // The button reads and never keeps; Enter keeps what stands there as understood, and else reads.
  input.addEventListener("keydown", (event) => {
    const keep = heard.querySelector("form.keep");
    if (event.key === "Enter" && !event.isComposing && keep && heard.dataset.line === input.value.trim()) {
      event.preventDefault();
      keep.requestSubmit();
    }
  });

  heard.addEventListener("click", (event) => {
    if (event.target.closest(".not-that")) {
      event.preventDefault();
      heard.replaceChildren();
      input.focus();
      input.select();
    }
  });

  // A key at the bench begins a line, wherever the page is.
  document.addEventListener("keydown", (event) => {
    const typing = event.target.closest("input, textarea, select, button, a, summary");
    if (!typing && event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey) {
      input.focus();
    }
  });
}
