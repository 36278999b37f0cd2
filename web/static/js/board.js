// Keeps the board live: the server sends it whole whenever it changes. Without
// this script the page loads itself again each minute.
const board = document.querySelector("[data-board]");
const lost = document.querySelector("[data-board-lost]");
const since = document.querySelector("[data-board-since]");
const silence = 40_000; // two heartbeats and a half
let source;
let watch;

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

// A link that has the focus keeps it through a change.
const draw = (html) => {
  const href = board.contains(document.activeElement) && document.activeElement.getAttribute("href");
  board.innerHTML = html;
  if (href) {
    board.querySelector(`a[href="${CSS.escape(href)}"]`)?.focus({ preventScroll: true });
  }
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

connect();
