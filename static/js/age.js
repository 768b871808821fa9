// The age of what stands on the page. The server writes the time of the plan; after twelve hours the
// page says OLD in words, by this device's clock.
export const OLD_AFTER_S = 12 * 3600;

export function isOld(asOfS, nowS) {
  return nowS - asOfS >= OLD_AFTER_S;
}

export function markOld(root) {
  for (const place of root.querySelectorAll("[data-as-of]")) {
    const word = place.querySelector(".old");
    if (word) word.hidden = !isOld(Number(place.dataset.asOf), Date.now() / 1000);
  }
}
