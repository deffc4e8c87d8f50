// The page is complete without this. It only makes it quicker: a line is read as it is typed, or as the fields that
// make it are filled, and Enter keeps what was understood; a photograph comes nearer without a new page.
"use strict";

const heard = document.getElementById("heard");
const lineForm = document.querySelector("form.line");
const readers = heard ? [...document.querySelectorAll("form[data-heard]")] : [];

// What a form says, as an address carries it.
const said = (form) => {
  const fields = new URLSearchParams([...new FormData(form)].map(([name, value]) => [name, value.trim()]));
  if (form.dataset.page) fields.set("page", form.dataset.page);
  return fields.toString();
};
const isEmpty = (form) => [...form.querySelectorAll("input:not([type=hidden])")].every((input) => !input.value.trim());

let asked = 0;
let waiting = null;

const understood = (form) => {
  heard.dataset.said = said(form);
  heard.dataset.line = form.elements.line ? form.elements.line.value.trim() : "";
};

const read = async (form) => {
  const mine = ++asked;
  if (isEmpty(form)) {
    heard.replaceChildren();
    return;
  }
  const words = said(form);
  try {
    const answer = await fetch(`${form.dataset.heard}?${words}`);
    const text = await answer.text();
    if (mine === asked) {
      heard.innerHTML = text;
      if (words === said(form)) understood(form);
    }
  } catch {
    // Without an answer the form still works by its button.
  }
};

for (const form of readers) {
  form.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(read, 120, form);
  });

  // The button reads and never keeps; Enter keeps what stands there as understood, and else reads.
  form.addEventListener("keydown", (event) => {
    const keep = heard.querySelector("form.keep");
    const inField = event.target.matches("input");
    if (event.key === "Enter" && inField && !event.isComposing && keep && heard.dataset.said === said(form)) {
      event.preventDefault();
      keep.requestSubmit();
    }
  });
}

if (readers.length > 0 && heard.childElementCount > 0) {
  understood(readers[0]);
  readers[0].querySelector("input:not([type=hidden])").focus();
}

if (heard && lineForm) {
  const input = lineForm.elements.line;
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
    const typing = event.target.closest("input, textarea, select, button, a, summary, [tabindex]");
    if (!typing && event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey) {
      input.focus();
    }
  });
}

// A photograph: what is looked at stands in the middle of what is seen of it, and it comes nearer where it is.
const pane = document.querySelector(".pane");
if (pane) {
  const here = document.getElementById("here");
  if (here) {
    pane.scrollLeft = here.cx.baseVal.value - pane.clientWidth / 2;
    pane.scrollTop = here.cy.baseVal.value - pane.clientHeight / 2;
  }

  const bringNear = (link) => {
    const now = document.querySelector(".ways .zoom[aria-current]");
    const [zoom, factor] = [link.dataset.zoom, link.dataset.zoom / now.dataset.zoom];
    const middle = [pane.scrollLeft + pane.clientWidth / 2, pane.scrollTop + pane.clientHeight / 2];
    for (const shown of pane.querySelectorAll("input, img")) {
      shown.setAttribute("width", shown.getAttribute("width") * factor);
      shown.setAttribute("height", shown.getAttribute("height") * factor);
      shown.src = shown.src.replace(/\d+$/, link.dataset.pixels);
    }
    pane.scrollLeft = middle[0] * factor - pane.clientWidth / 2;
    pane.scrollTop = middle[1] * factor - pane.clientHeight / 2;
    now.removeAttribute("aria-current");
    link.setAttribute("aria-current", "true");
    history.replaceState(null, "", link.href);
    for (const field of document.querySelectorAll("main input[name=zoom]")) field.value = zoom;
    for (const other of document.querySelectorAll("main a:not(.zoom)")) other.href = other.href.replace(/([?&]zoom=)\d/, `$1${zoom}`);
  };
  for (const link of document.querySelectorAll(".ways .zoom")) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      bringNear(link);
    });
  }
}
