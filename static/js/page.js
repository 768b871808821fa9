// What a script may add to a page that already works without one: it says OLD when the page is old,
// sends forms without losing them when there is no signal, and tells when this phone's clock is off.
import { markOld } from "./age.js";
import { takeOver, sendKept } from "./send.js";

markOld(document);
setInterval(() => markOld(document), 60000);
document.addEventListener("visibilitychange", () => markOld(document));

for (const form of document.querySelectorAll("form[action$='/records']")) takeOver(form);
window.addEventListener("online", sendKept);
document.addEventListener("visibilitychange", () => { if (!document.hidden) sendKept(); });
sendKept();

// A crew's page stays readable with no signal, also after a reload, where the browser allows it.
if (document.body.classList.contains("crew") && "serviceWorker" in navigator && isSecureContext) {
  navigator.serviceWorker.register("/static/js/keep.js", { scope: "/c/" }).catch(() => {});
}
