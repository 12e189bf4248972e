"use strict";
// What is ticked, how far each walk is counted and which step is looked at, kept by the browser where it can.
(() => {
  const key = document.documentElement.dataset.key;
  const empty = { ticked: [], counted: {}, step: 0, all: false };

  const load = () => {
    try {
      const found = JSON.parse(localStorage.getItem(key));
      localStorage.setItem(key, JSON.stringify(found));
      return { ...empty, ...(found && typeof found === "object" ? found : {}) };
    } catch {
      return null;
    }
  };
  const kept = load();
  const state = kept || { ...empty };
  const save = () => {
    if (kept) localStorage.setItem(key, JSON.stringify(state));
  };
  document.getElementById("kept").hidden = kept !== null;

  // Boxes.
  const ticked = new Set(Array.isArray(state.ticked) ? state.ticked : []);
  const mark = (box) => {
    const step = box.closest(".step");
    step.classList.toggle("done", [...step.querySelectorAll("input")].every((each) => each.checked));
  };
  for (const box of document.querySelectorAll("input[type=checkbox]")) {
    box.checked = ticked.has(box.id);
    mark(box);
    box.addEventListener("change", () => {
      if (box.checked) ticked.add(box.id);
      else ticked.delete(box.id);
      state.ticked = [...ticked];
      mark(box);
      save();
    });
  }

  // Counters.
  for (const walk of document.querySelectorAll(".walk")) {
    const holes = walk.dataset.holes.split(" ");
    const says = JSON.parse(walk.dataset.says);
    const [here, then] = walk.querySelectorAll("p");
    const [next, back, again] = walk.querySelectorAll("button");
    const told = (at) => holes[at] + (says[at] ? `: ${says[at]}` : "");
    const show = () => {
      const at = Math.min(Math.max(Number(state.counted[walk.id]) || 0, 0), holes.length - 1);
      const last = at === holes.length - 1;
      here.textContent = `Hole ${told(at)}`;
      then.textContent = last ? "The thread ends here, or goes on in the next seam." : `Next: hole ${told(at + 1)}`;
      if (last && says[at] && says[at].includes("end")) then.textContent = "The seam is sewn: lock the thread.";
      then.textContent += ` (${at + 1} of ${holes.length})`;
      next.disabled = last;
      back.disabled = again.disabled = at === 0;
    };
    const go = (to) => {
      state.counted[walk.id] = to(Number(state.counted[walk.id]) || 0);
      show();
      save();
    };
    next.addEventListener("click", () => go((at) => Math.min(at + 1, holes.length - 1)));
    back.addEventListener("click", () => go((at) => Math.max(at - 1, 0)));
    again.addEventListener("click", () => go(() => 0));
    walk.hidden = false;
    show();
  }

  // One step at a time.
  const steps = [...document.querySelectorAll(".steps .step")];
  const turn = document.getElementById("turn");
  const [before, after, all] = turn.querySelectorAll("button");
  const place = document.getElementById("place");
  const look = (focus) => {
    state.step = Math.min(Math.max(Number(state.step) || 0, 0), steps.length - 1);
    steps.forEach((step, index) => (step.hidden = !state.all && index !== state.step));
    before.hidden = after.hidden = place.hidden = state.all;
    before.disabled = state.step === 0;
    after.disabled = state.step === steps.length - 1;
    place.textContent = `${state.step + 1} of ${steps.length}`;
    all.textContent = state.all ? "One step at a time" : "All steps";
    if (focus && !state.all) steps[state.step].querySelector("h4").focus();
    save();
  };
  const turned = (by) => {
    state.step += by;
    look(true);
  };
  before.addEventListener("click", () => turned(-1));
  after.addEventListener("click", () => turned(1));
  all.addEventListener("click", () => {
    state.all = !state.all;
    look(false);
  });
  document.addEventListener("keydown", (event) => {
    if (state.all || event.altKey || event.ctrlKey || event.metaKey || event.target.closest("input, .walk, .wide")) return;
    if (event.key === "ArrowRight" && !after.disabled) turned(1);
    if (event.key === "ArrowLeft" && !before.disabled) turned(-1);
  });
  turn.hidden = steps.length === 0;
  look(false);
})();
