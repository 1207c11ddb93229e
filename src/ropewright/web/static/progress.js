// The page of an unfinished inspection asks for what phones have sent, while somebody looks at it.
const EVERY_MS = 10_000;
const box = document.querySelector("[data-progress]");
const live = document.querySelector("[data-live]");
const shown = () => box.querySelector("[data-stand]")?.dataset.stand;
const first = box && shown();

async function ask() {
  if (document.hidden) return;
  let text = "";
  try {
    const answer = await fetch(box.dataset.progress, { cache: "no-store", redirect: "error" });
    if (answer.ok) text = await answer.text();
  } catch {
    // said below
  }
  if (!text) {
    say(box.dataset.lost);
    return;
  }
  const page = new DOMParser().parseFromString(text, "text/html");
  const stand = page.querySelector("[data-stand]");
  if (!stand || stand.dataset.stand === shown()) return;
  box.replaceChildren(...page.body.childNodes);
  if (stand.dataset.stand !== first) say(box.dataset.again);
}

function say(words) {
  if (live.textContent === words) return;
  const link = document.createElement("a");
  link.href = location.pathname;
  link.textContent = words;
  live.replaceChildren(link);
}

if (box) {
  setInterval(ask, EVERY_MS);
  document.addEventListener("visibilitychange", ask);
}
