// Sentences come with the page, hidden, in the page's language; a script never holds a word itself.
export function say(name, figure = "", typed = "") {
  const text = document.querySelector(`[data-says="${name}"]`);
  const place = document.getElementById("says");
  if (!text || !place) return;
  const line = document.createElement("p");
  line.textContent = `${text.textContent.replace("#", String(figure))} ${typed}`.trim();
  if ([...place.children].some((other) => other.textContent === line.textContent)) return;
  place.append(line);
  while (place.childElementCount > 3) place.firstElementChild.remove();
}
