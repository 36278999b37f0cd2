// On a narrow screen the menu scrolls sideways: brings the page that is open
// into sight once the letters have their final width. The menu works without
// this script.
const list = document.querySelector("[data-menu]");
const current = list?.querySelector("[aria-current]");

if (current) {
  await document.fonts.ready;
  const room = list.clientWidth - current.offsetWidth;
  list.scrollLeft = current.offsetLeft - list.offsetLeft - room / 2;
}
