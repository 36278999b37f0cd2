// Keeps the board live: the server sends it whole whenever it changes. Without
// this script the page loads itself again each minute.
//
// Left alone for a minute on a wide screen, or at once at /board#wall, it is a
// wall: the menu goes, and where the rows do not all fit its pages turn. A key, a
// finger or the mouse brings the whole list back.
const board = document.querySelector("[data-board]");
const lost = document.querySelector("[data-board-lost]");
const since = document.querySelector("[data-board-since]");
const silence = 40_000; // two heartbeats and a half
const turned = document.querySelector("[data-board-turn]");
const wide = matchMedia("(min-width: 70rem)");
const restful = 60_000; // without a hand on it
const turn = 12_000; // for twelve rows: a second each
let source;
let watch;
let wall = location.hash === "#wall";
let first = 0; // the first row that shows
let rest;

// Says that the figures are old, from when on.
const alone = () => {
  if (lost.hidden) {
    since.textContent = new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
    lost.hidden = false;
  }
};

const alive = () => {
  lost.hidden = true;
  clearTimeout(watch);
  watch = setTimeout(() => {
    alone();
    connect();
  }, silence);
};

// Shows the rows that fit from the first one on, and returns where the next page
// begins; all of them where it is no wall.
const lay = () => {
  const rows = [...board.querySelectorAll(".board-row")];
  const walled = wall && wide.matches;
  document.documentElement.classList.toggle("board-wall", walled);
  for (const row of rows) {
    row.hidden = false;
  }
  turned.hidden = true;
  if (!walled || rows.length === 0) {
    return 0;
  }
  scrollTo(0, 0);
  const tops = rows.map((row) => row.getBoundingClientRect().top);
  const below = document.documentElement.scrollHeight - rows.at(-1).getBoundingClientRect().bottom - scrollY;
  const room = document.documentElement.clientHeight - tops[0] - Math.min(below, 56);
  const ends = rows.map((row) => row.getBoundingClientRect().bottom);
  first = first < rows.length ? first : 0;
  let next = first + 1;
  while (next < rows.length && ends[next] - tops[first] <= room) {
    next += 1;
  }
  if (first === 0 && next === rows.length) {
    return 0;
  }
  rows.forEach((row, i) => {
    row.hidden = i < first || i >= next;
  });
  turned.textContent = `${first + 1} to ${next} of ${rows.length}`;
  turned.hidden = false;
  return next % rows.length;
};

const touched = () => {
  clearTimeout(rest);
  rest = setTimeout(() => {
    wall = true;
    first = 0;
    lay();
  }, restful);
  if (wall) {
    wall = false;
    lay();
  }
};

for (const hand of ["pointerdown", "keydown", "wheel", "focusin"]) {
  addEventListener(hand, touched, { passive: true });
}
// Where a screen begins to show a mouse moves that nobody moved.
addEventListener("pointermove", (event) => (event.movementX || event.movementY) && touched(), { passive: true });
addEventListener("resize", lay);
setInterval(() => {
  if (wall) {
    first = lay();
    lay();
  }
}, turn);

// A link that has the focus keeps it through a change.
const draw = (html) => {
  const href = board.contains(document.activeElement) && document.activeElement.getAttribute("href");
  board.innerHTML = html;
  if (href) {
    board.querySelector(`a[href="${CSS.escape(href)}"]`)?.focus({ preventScroll: true });
  }
  lay();
};

// Where the stream cannot be had the page is read instead.
const reload = async () => {
  try {
    const answer = await fetch("/board", { cache: "no-store" });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("[data-board]");
    if (answer.ok && page) {
      draw(page.innerHTML);
      lost.hidden = true;
    }
  } catch {
    alone();
  }
};

function connect() {
  source?.close();
  source = new EventSource(board.dataset.board);
  source.addEventListener("board", (event) => {
    draw(event.data);
    alive();
  });
  source.addEventListener("beat", alive);
  source.addEventListener("error", () => {
    alone();
    if (source.readyState === EventSource.CLOSED) {
      clearTimeout(watch);
      watch = setTimeout(() => {
        reload();
        connect();
      }, 5000);
    }
  });
}

if (wall) {
  lay();
} else {
  touched();
}
connect();
