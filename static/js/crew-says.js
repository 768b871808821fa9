// Sentences come with the page, hidden, in the page's language; a script never holds a word itself.
export function word(name, figure = "") {
  const place = document.querySelector(`[data-says="${name}"]`);
  return place ? place.textContent.replace("#", String(figure)) : "";
}

export function element(tag, text, attributes = {}) {
  const made = document.createElement(tag);
  made.textContent = text;
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  return made;
}

// One sentence at the head of the screen, with what can be done about it beside it. It stays until the
// next one: nobody reads a message that goes by itself with gloves on.
export function tell(text, ...actions) {
  document.getElementById("says").replaceChildren(element("p", text), ...actions);
}

export function hush() {
  document.getElementById("says").replaceChildren();
}

// A UUID (version 4, RFC 9562), also where the page is not a secure context.
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
}
