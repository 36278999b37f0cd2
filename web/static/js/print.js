// Shows the button that prints the page, which the browser's own menu does as
// well without this script.
for (const button of document.querySelectorAll("[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
