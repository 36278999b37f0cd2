// Chooses the text of a box that is filled by scanner, so that the next scan
// replaces it. The page works without this script.
const box = document.querySelector("[data-select]");

if (box) {
  window.addEventListener("pageshow", () => {
    box.focus({ preventScroll: true });
    box.select();
  });
}
