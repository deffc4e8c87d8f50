// Answers what is wrong with how this page is laid out, as sentences; an empty list where nothing is.
"use strict";
const faults = [];
const wide = document.documentElement.clientWidth;
const named = (element) => {
  const classes = typeof element.className === "string" && element.className ? "." + element.className.trim().replaceAll(/\s+/g, ".") : "";
  const words = (element.textContent || element.value || element.placeholder || "").trim().replaceAll(/\s+/g, " ").slice(0, 60);
  return `<${element.localName}${classes}> “${words}”`;
};
const unseen = (element) => element.closest(".unseen, .skip, [aria-hidden=true] .unseen") !== null;
const shown = (element) =>
  element.checkVisibility({ contentVisibilityAuto: true, visibilityProperty: true, opacityProperty: true }) && !unseen(element);
// A table and a picture may be wider than the page and scroll by themselves; nothing else does.
const scrolls = (element) => element.closest(".table, .pane");

// The page itself never scrolls sideways.
const root = document.scrollingElement;
if (root.scrollWidth > innerWidth) faults.push(`the page is ${root.scrollWidth} px wide in a window of ${innerWidth} px`);

// Words: where each stands, what cuts it off, what it lies on.
const pieces = [];
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
for (let node = walker.nextNode(); node; node = walker.nextNode()) {
  const element = node.parentElement;
  if (!node.data.trim() || ["STYLE", "SCRIPT", "OPTION", "title", "desc"].includes(element.tagName) || !shown(element)) continue;
  const range = document.createRange();
  range.selectNodeContents(node);
  for (const box of range.getClientRects()) {
    if (box.width < 1 || box.height < 1) continue;
    const inside = scrolls(element);
    if (inside) {
      const around = inside.getBoundingClientRect();
      if (box.right > around.right + 1 || box.left < around.left - 1) continue;
    } else if (box.left < -1 || box.right > wide + 1) {
      faults.push(`out of the window (${Math.round(box.left)} to ${Math.round(box.right)} px of ${wide}): ${named(element)}`);
    }
    pieces.push({ element, node, box });
  }
  const svg = element.closest("svg");
  if (svg) {
    const paper = svg.getBoundingClientRect();
    const box = range.getBoundingClientRect();
    if (box.left < paper.left - 1 || box.right > paper.right + 1 || box.top < paper.top - 1 || box.bottom > paper.bottom + 1) {
      faults.push(`out of its figure: ${named(element)}`);
    }
  }
}
for (const element of document.querySelectorAll("body *")) {
  if (!shown(element) || element.closest("svg")) continue;
  const style = getComputedStyle(element);
  const hides = (way) => ["hidden", "clip"].includes(way);
  if (hides(style.overflowX) && element.scrollWidth > element.clientWidth + 1) faults.push(`cut off at the side: ${named(element)}`);
  if (hides(style.overflowY) && element.scrollHeight > element.clientHeight + 1) faults.push(`cut off below: ${named(element)}`);
  if (element.matches("button, .button, select") && element.scrollWidth > element.clientWidth + 1) {
    faults.push(`label cut off: ${named(element)}`);
  }
  if (element.matches("input[placeholder]")) {
    const pen = document.createElement("canvas").getContext("2d");
    pen.font = getComputedStyle(element, "::placeholder").font;
    const room = element.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
    const needs = pen.measureText(element.placeholder).width;
    if (needs > room + 1) faults.push(`example cut off (${Math.ceil(needs)} px in ${Math.floor(room)}): ${named(element)}`);
  }
}

// Two words on one place. Line boxes of one text may touch: only what overlaps by a good part of a line is a fault.
pieces.sort((one, other) => one.box.top - other.box.top);
pieces.forEach((one, at) => {
  for (const other of pieces.slice(at + 1)) {
    if (other.box.top >= one.box.bottom) break;
    if (other.node === one.node) continue;
    const across = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
    const down = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
    if (across > 2 && down > 0.3 * Math.min(one.box.height, other.box.height)) {
      faults.push(`on one place by ${Math.round(across)} × ${Math.round(down)} px: ${named(one.element)} and ${named(other.element)}`);
    }
  }
});

// What is pressed is at least 44 px high. A link in running text or in small print is as high as its line
// (WCAG 2.2, 2.5.8 Target Size, the exception "inline").
for (const element of document.querySelectorAll("a[href], button, summary, select, textarea, input:not([type=hidden])")) {
  if (!shown(element)) continue;
  if (element.localName === "a" && !element.matches(".button")) {
    const inText = element.closest("small") || element.parentElement.textContent.trim() !== element.textContent.trim();
    if (inText && !element.closest("nav") && !element.matches(".home")) continue;
  }
  const high = element.getBoundingClientRect().height;
  if (high < 43.5) faults.push(`only ${Math.round(high)} px high to press: ${named(element)}`);
}

// The faces that the style names are there.
for (const face of ['16px "Libertinus Serif"', 'italic 16px "Libertinus Serif"', '15px "DejaVu Sans"']) {
  if (!document.fonts.check(face)) faults.push(`the face ${face} is not loaded`);
}
for (const face of document.fonts) {
  if (face.status === "error") faults.push(`the face ${face.family} could not be loaded`);
}
for (const image of document.images) {
  if (shown(image) && (!image.complete || image.naturalWidth === 0)) faults.push(`a picture does not show: ${image.alt || image.src}`);
}
return [...new Set(faults)];
