// Elements without markup in strings: nothing a person typed can become part of the page.

const SVG = "http://www.w3.org/2000/svg";

/** An element, such as h("button.big", { onclick }, "words"). */
export function h(name, props, ...children) {
  const [tag, ...classes] = name.split(".");
  return filled(document.createElement(tag), classes, props, children);
}

/** An element of a drawing. */
export function s(name, props, ...children) {
  const [tag, ...classes] = name.split(".");
  return filled(document.createElementNS(SVG, tag), classes, props, children);
}

function filled(element, classes, props, children) {
  for (const one of classes) element.classList.add(one);
  for (const [key, value] of Object.entries(props ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
    else if (value === true) element.setAttribute(key, "");
    else element.setAttribute(key, String(value));
  }
  element.append(...flat(children));
  return element;
}

const flat = (children) =>
  children.flat(9).filter((one) => one !== null && one !== undefined && one !== false && one !== "");

/** Put other children into an element. */
export const refill = (element, ...children) => element.replaceChildren(...flat(children));
