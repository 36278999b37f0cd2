// Keeps the scan box ready for the next scan. A scanner is a keyboard that
// ends with Enter: what it sends must not be lost because nothing has the
// focus. The page works without this script.
const box = document.querySelector("[data-scan]");

if (box) {
  const wrong = document.querySelector("[data-wrong]");

  // Typing that goes nowhere goes to the scan box.
  document.addEventListener("keydown", (event) => {
    const at = document.activeElement;
    const nowhere = at === null || at === document.body || at.tagName === "MAIN";
    if (nowhere && event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey) {
      box.focus({ preventScroll: true });
    }
  });

  // An empty box on every visit, also on one back from the browser's memory;
  // a field that was filled in wrongly comes first.
  window.addEventListener("pageshow", () => {
    box.value = "";
    (wrong ?? box).focus({ preventScroll: !wrong });
  });

  // One scan, one request: the box is emptied once its text is on its way.
  box.form.addEventListener("submit", () => {
    setTimeout(() => {
      box.value = "";
    });
  });
}
