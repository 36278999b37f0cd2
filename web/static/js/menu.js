// One group of the menu is open at a time, also in browsers that do not see to
// it themselves; Escape and a press elsewhere close it. The menu works without
// this script.
const groups = [...document.querySelectorAll("[data-menu]")];
const close = (but) => groups.filter((group) => group !== but).forEach((group) => { group.open = false; });

for (const group of groups) {
  group.addEventListener("toggle", () => group.open && close(group));
}

document.addEventListener("keydown", (event) => {
  const open = groups.find((group) => group.open);
  if (event.key === "Escape" && open) {
    close();
    open.querySelector("summary").focus();
  }
});

document.addEventListener("click", (event) => {
  if (!event.target.closest("[data-menu]")) {
    close();
  }
});
