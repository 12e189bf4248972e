"use strict";
// Which leaf is looked at, what is ticked and how far each walk is counted, kept by the browser where it can.
(() => {
  const key = document.documentElement.dataset.key;
  const load = () => {
    try {
      const { ticked, counted, at } = JSON.parse(localStorage.getItem(key));
      return { ticked: new Set(ticked), counted: { ...counted }, at };
    } catch {
      return { ticked: new Set(), counted: {}, at: "" };
    }
  };
  const state = load();
  const keep = (name, text) => {
    try {
      localStorage.setItem(name, text);
      return true;
    } catch {
      return false;
    }
  };
  const save = () => keep(key, JSON.stringify({ ...state, ticked: [...state.ticked] }));
  // Whether anything can be kept is tried beside what is kept: a page that is only opened changes nothing.
  document.getElementById("kept").hidden = keep(`${key} can be kept`, "");

  const leaves = [...document.querySelectorAll(".leaf")];
  const linkTo = (leaf) => document.querySelector(`#contents li a[href="#${leaf.id}"]`);

  // Boxes; the contents tell which leaves are done, and which step comes next.
  const [soFar, toDo] = ["so-far", "to-do"].map((id) => document.getElementById(id));
  const boxes = [...document.querySelectorAll("input[type=checkbox]")];
  const boxed = leaves.filter((leaf) => leaf.querySelector("input"));
  const done = (leaf) => boxes.every((box) => box.checked || !leaf.contains(box));
  const mark = () => {
    for (const leaf of boxed) linkTo(leaf).classList.toggle("done", done(leaf));
    const steps = boxes.filter((box) => box.closest(".step"));
    soFar.textContent = `${steps.filter((box) => box.checked).length} of ${steps.length} steps done`;
    const next = boxed.find((leaf) => leaf.matches(".step") && !done(leaf));
    toDo.hidden = !next;
    if (next) toDo.textContent = `To do next: ${linkTo(next).textContent}`;
    if (next) toDo.href = `#${next.id}`;
  };
  for (const box of boxes) {
    box.checked = state.ticked.has(box.id);
    box.addEventListener("change", () => {
      if (box.checked) state.ticked.add(box.id);
      else state.ticked.delete(box.id);
      mark();
      save();
    });
  }
  soFar.hidden = false;
  mark();

  // Counters: the hole in which both needles are, the next, and what comes after it.
  for (const walk of document.querySelectorAll(".walk")) {
    const holes = walk.dataset.holes.split(" ");
    const says = JSON.parse(walk.dataset.says);
    const last = holes.length - 1;
    const summary = walk.querySelector("summary");
    const [here, next, later] = walk.querySelectorAll("p");
    const [back, on, again] = walk.querySelectorAll("button");
    const hole = (place) => `hole ${holes[place]}` + (says[place] ? `: ${says[place]}` : "");
    const is = (event) => (_, place) => (says[place] || "").split(", ").includes(event);
    const [ends, joins] = [holes.map(is("end")), holes.map(is("join"))];
    const over = (place) => {
      const begun = joins.lastIndexOf(true, place);
      return begun < 0 ? "." : `; the next begins in hole ${holes[begun]}, over the same holes.`;
    };
    const after = (place) => {
      if (place < last) return `${ends[place] ? `Lock this thread${over(place)} ` : ""}Next ${hole(place + 1)}`;
      return ends[place] ? "The seam is sewn: lock the thread." : "The thread goes on in the next seam.";
    };
    const show = () => {
      const place = Math.min(Math.max(Math.trunc(state.counted[walk.id]) || 0, 0), last);
      const ahead = holes.findIndex((_, each) => each > place + 1 && (says[each] || each === last));
      here.textContent = hole(place).replace("h", "H");
      next.textContent = after(place);
      later.textContent = `${place + 1} of ${last + 1}` + (ahead < 0 ? "" : `; in ${ahead - place}, ${hole(ahead)}`);
      summary.textContent = `Count along ${walk.dataset.seam}` + (place ? `: ${place + 1} of ${last + 1}` : "");
      on.disabled = place === last;
      back.disabled = place === 0;
      again.hidden = place < last;
      return place;
    };
    const go = (by) => {
      state.counted[walk.id] = by ? show() + by : 0;
      show();
      save();
    };
    back.addEventListener("click", () => go(-1));
    on.addEventListener("click", () => go(1));
    again.addEventListener("click", () => {
      go(0);
      on.focus();
    });
    walk.hidden = false;
    const begun = show();
    if (begun > 0 && begun < last) walk.open = true;
  }

  // One leaf at a time: the one that the address names, else the last one looked at.
  const turn = document.getElementById("turn");
  const [before, after] = turn.querySelectorAll("button");
  let now = -1;
  const look = (focus) => {
    const named = document.getElementById(location.hash.slice(1)) || document.getElementById(state.at);
    const to = Math.max(leaves.indexOf(named && named.closest(".leaf")), 0);
    if (to === now) return;
    now = to;
    leaves.forEach((leaf, index) => (leaf.hidden = index !== now));
    before.disabled = now === 0;
    after.disabled = now === leaves.length - 1;
    if (state.at !== leaves[now].id) {
      state.at = leaves[now].id;
      save();
    }
    scrollTo(0, 0);
    if (focus) leaves[now].querySelector("h2").focus({ preventScroll: true });
  };
  const turned = (by) => {
    if (!leaves[now + by]) return;
    location.replace(`#${leaves[now + by].id}`);
    look(true);
  };
  before.addEventListener("click", () => turned(-1));
  after.addEventListener("click", () => turned(1));
  addEventListener("hashchange", () => look(true));
  addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.target.closest("input, .walk, .wide")) return;
    if (event.key === "ArrowRight") turned(1);
    if (event.key === "ArrowLeft") turned(-1);
  });
  turn.hidden = false;
  look(false);
})();
