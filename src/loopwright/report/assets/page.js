"use strict";
(() => {
  const data = JSON.parse(document.getElementById("data").textContent);
  const bar = document.getElementById("bar");
  const root = document.documentElement;

  // What is kept between visits; a browser may forbid it, and then nothing is kept.
  const kept = {
    get(name) { try { return localStorage.getItem("loopwright." + name); } catch { return null; } },
    set(name, value) { try { localStorage.setItem("loopwright." + name, value); } catch { /* not kept */ } },
  };

  const chosen = (name) => (bar.elements[name] ? bar.elements[name].value : "only");
  const view = () => document.querySelector('.pattern[data-of="' + chosen("size") + '"]') || document.querySelector(".pattern:not([data-of])");
  const boxes = () => [...view().querySelectorAll("input[type=checkbox]")];
  const shelf = () => ["ticks", data.digest, chosen("size"), chosen("sock")].join(".");

  function showSize() {
    const size = chosen("size");
    for (const part of document.querySelectorAll("[data-of]")) part.hidden = part.dataset.of !== size;
    showTicks();
    document.dispatchEvent(new CustomEvent("size", { detail: size }));
  }

  function showTicks() {
    const ticked = new Set((kept.get(shelf()) || "").split(",").filter(Boolean).map(Number));
    boxes().forEach((box, place) => { box.checked = ticked.has(place); });
    for (const line of view().querySelectorAll(".lines > li")) markLine(line);
    showProgress();
    showCurrent();
  }

  // The line that is worked now, and the heading it stands under.
  function showCurrent() {
    for (const one of view().querySelectorAll(".current")) one.classList.remove("current");
    const open = boxes().find((box) => !box.checked) || boxes().at(-1);
    const line = open && open.closest("li");
    if (!line) return;
    line.classList.add("current");
    const title = line.closest("ol").previousElementSibling;
    if (title && title.tagName === "H3") title.classList.add("current");
  }

  function setBox(box, on) {
    box.checked = on;
    const line = box.closest("li");
    markLine(line);
    keepTicks();
    showCurrent();
    line.scrollIntoView({ block: "center" });
  }

  function markLine(line) {
    const own = [...line.querySelectorAll("input")];
    line.classList.toggle("done", own.length > 0 && own.every((box) => box.checked));
  }

  function showProgress() {
    const rounds = boxes().filter((box) => "round" in box.dataset);
    const done = rounds.filter((box) => box.checked).length;
    document.getElementById("progress").value = rounds.length ? done + " of " + rounds.length + " rounds" : "";
    for (const id of ["count", "undo", "single", "next", "clear"]) document.getElementById(id).hidden = !rounds.length;
  }

  function keepTicks() {
    kept.set(shelf(), boxes().flatMap((box, place) => (box.checked ? [place] : [])).join(","));
    showProgress();
  }

  document.querySelector("main").addEventListener("change", (event) => {
    const line = event.target.closest(".lines > li");
    if (!line) return;
    markLine(line);
    keepTicks();
    showCurrent();
  });

  document.getElementById("count").addEventListener("click", () => {
    const open = boxes().find((box) => !box.checked);
    if (open) setBox(open, true);
  });

  document.getElementById("undo").addEventListener("click", () => {
    const last = boxes().filter((box) => box.checked).at(-1);
    if (last) setBox(last, false);
  });

  document.getElementById("single").addEventListener("click", (event) => {
    const on = root.dataset.single !== "yes";
    root.dataset.single = on ? "yes" : "no";
    event.target.setAttribute("aria-pressed", on);
    showCurrent();
  });

  document.getElementById("next").addEventListener("click", () => {
    const open = boxes().find((box) => !box.checked);
    if (!open) return;
    open.focus({ preventScroll: true });
    open.closest("li").scrollIntoView({ block: "center" });
  });

  document.getElementById("clear").addEventListener("click", () => {
    if (!window.confirm("Clear all boxes of this sock in this size?")) return;
    kept.set(shelf(), "");
    showTicks();
  });

  bar.addEventListener("submit", (event) => event.preventDefault());
  bar.addEventListener("change", (event) => {
    const name = event.target.name;
    kept.set(name === "look" ? name : name + "." + data.digest, event.target.value);
    if (name === "look") root.dataset.look = event.target.value;
    if (name === "size") showSize();
    if (name === "sock") showTicks();
  });

  function recall(name, value) {
    const field = bar.elements[name];
    if (!field || value === null) return;
    const values = field.options ? [...field.options] : [...field];
    if (values.some((one) => one.value === value)) field.value = value;
  }
  recall("look", kept.get("look"));
  recall("sock", kept.get("sock." + data.digest));
  recall("size", kept.get("size." + data.digest));
  root.dataset.look = chosen("look");
  document.addEventListener("DOMContentLoaded", showSize);
  // On paper nothing can be unfolded.
  let folded = [];
  addEventListener("beforeprint", () => {
    folded = [...document.querySelectorAll("details:not([open])")];
    for (const one of folded) one.open = true;
  });
  addEventListener("afterprint", () => { for (const one of folded.splice(0)) one.open = false; });
})();
