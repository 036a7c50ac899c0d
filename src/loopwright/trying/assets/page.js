// A sock tried by hand, in a notebook or on a page of its own. This knows nothing of knitting: the
// model is told choices and answers with what is shown, in stages (see loopwright.trying._bench).

const SIDES = ["First sock", "Second sock"];
const SILENCE_MS = 12000; // without an answer: nobody is there
const BURST_MS = 700; // moves of one control that are nearer together are one step back

let ids = 0;

function make(tag, given = {}, ...inside) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (value === true) node.setAttribute(name, "");
    else if (value !== false && value !== undefined && value !== null) node.setAttribute(name, value);
  }
  node.append(...inside.filter((one) => one !== null && one !== undefined));
  return node;
}

const mark = (isGuess, words) => make("span", { class: `mark ${isGuess ? "guess" : "sure"}` }, words ?? (isGuess ? "estimated" : "measured"));
const times = (number) => number.toFixed(2);

// ---- lengths in centimetres or in inches: the model knows centimetres and millimetres only

let inInches = false;

const MM_PER_INCH = 25.4;
const unit = () => (inInches ? "in" : "mm");
const length = (mm) => (inInches ? (mm / MM_PER_INCH).toFixed(1) : `${mm}`);
const rounded = (value, step) => (value === null || value === undefined ? value : Math.round(value / step) * step);
const inWords = (words) => (inInches ? words.replace(/(\d+(?:\.\d+)?) cm/g, (_, cm) => `${(cm * 10 / MM_PER_INCH).toFixed(1)} in`) : words);

// A control as it is shown: its numbers in the unit that was chosen, with how many of the model's one of them is.
function inUnits(one) {
  const isGauge = one.group === "Gauge" && one.words.endsWith("to 10 cm");
  if (!inInches || !(one.unit === "cm" || isGauge)) return { ...one, scale: 1 };
  const scale = isGauge ? 100 / (4 * MM_PER_INCH) : MM_PER_INCH / 10;
  const step = isGauge ? 0.5 : 0.05;
  const here = (value) => (value === null || value === undefined ? value : Number(rounded(value / scale, 0.01).toFixed(2)));
  return {
    ...one, scale, step, unit: isGauge ? one.unit : "in", words: isGauge ? one.words.replace("10 cm", "4 in") : one.words,
    value: here(one.value), usual: here(one.usual),
    low: Math.ceil(one.low / scale / step) * step, high: Math.floor(one.high / scale / step) * step,
  };
}

// ---- one control

function control(one, moved) {
  const id = `lw-move-${++ids}`;
  const about = one.about ? make("p", { class: "about", id: `${id}-about` }, one.about) : null;
  const described = { "aria-describedby": about ? `${id}-about` : undefined };
  const words = one.unit ? `${one.words}, ${one.unit}` : one.words;
  const wrong = make("div", { class: "wrong", role: "alert", hidden: true });
  const node = make("div", { class: "control", "data-key": one.key });
  let now = one;
  let show;
  let input;

  if (one.kind === "yes") {
    input = make("input", { type: "checkbox", id, ...described, onchange: () => moved(one.key, input.checked) });
    node.append(make("label", { class: "tick", for: id }, input, words));
    show = () => { input.checked = now.value; };
  } else if (one.kind === "choice") {
    input = make("select", { id, class: "wide", ...described, onchange: () => moved(one.key, input.value) },
      ...one.options.map((word) => make("option", { value: word }, word)));
    node.append(make("label", { for: id }, words), input);
    show = () => { input.value = now.value; };
  } else {
    ({ input, show } = numberControl(one, id, words, described, node, () => now, moved));
  }
  if (about) node.append(about);
  node.append(wrong);
  show();
  return {
    node,
    input,
    like: JSON.stringify([one.kind, one.options, one.step, one.unit, one.can_be_left, one.words]),
    update(next, isChosen) {
      now = next;
      const held = node.getRootNode().activeElement; // what is being typed stays as it is typed
      if (isChosen || !(node.contains(held) && (held.type === "number" || held.type === "range"))) show();
    },
    refuse(said, undo) {
      input.setAttribute("aria-invalid", "true");
      wrong.replaceChildren(make("div", {}, said), make("button", { type: "button", onclick: undo }, "Back to what could be made"));
      wrong.hidden = false;
    },
    accept() {
      input.removeAttribute("aria-invalid");
      wrong.hidden = true;
    },
  };
}

function numberControl(one, id, words, described, node, now, moved) {
  const whole = one.kind === "count";
  const told = () => (now().value === null ? now().usual : now().value);
  const limits = { min: one.low, max: one.high, step: one.step };
  const input = make("input", { type: "number", id, inputmode: whole ? "numeric" : "decimal", ...limits, step: whole ? one.step : "any", ...described });
  const give = (value) => {
    if (left) left.checked = false;
    moved(one.key, value);
  };
  input.addEventListener("input", () => {
    const value = input.valueAsNumber;
    if (Number.isNaN(value)) return;
    if (slider) slider.value = value;
    give(value);
  });
  let slider = null;
  let left = null;
  node.append(make("label", { for: id }, words));
  if (whole) {
    const by = (step) => () => {
      const value = (Number.isNaN(input.valueAsNumber) ? told() ?? 0 : input.valueAsNumber) + step;
      input.value = Math.max(one.low, Math.min(one.high, value));
      give(input.valueAsNumber);
    };
    node.append(make("div", { class: "stepper" },
      make("button", { type: "button", "aria-label": `${one.words}: fewer`, onclick: by(-one.step) }, "−"),
      input,
      make("button", { type: "button", "aria-label": `${one.words}: more`, onclick: by(one.step) }, "+")));
  } else {
    slider = make("input", { type: "range", ...limits, "aria-label": words });
    slider.addEventListener("input", () => {
      input.value = slider.value;
      give(slider.valueAsNumber);
    });
    node.append(slider, input);
  }
  if (one.can_be_left) {
    const word = one.group === "Foot" ? "not measured" : "as usual";
    left = make("input", { type: "checkbox", onchange: () => moved(one.key, left.checked ? null : told()) });
    node.append(make("label", { class: "tick" }, left, word));
  }
  const show = () => {
    const value = told();
    input.value = value ?? "";
    if (slider) slider.value = value ?? one.low;
    if (left) left.checked = now().value === null;
  };
  return { input, show };
}

// ---- one picture, which is never blank: the next one takes its place when it can be drawn

function picture(scrolls = false) {
  const words = make("figcaption");
  const hold = scrolls ? make("div", { class: "scroll", tabindex: "0", role: "group" }) : make("div");
  const node = make("figure", { hidden: true }, hold, words);
  let last = 0;
  return {
    node,
    older() {
      node.classList.add("older");
      words.replaceChildren(mark(true, "of the sock before; being worked out"));
    },
    async show(one, ...marks) {
      const mine = ++last;
      const url = URL.createObjectURL(new Blob([one.svg], { type: "image/svg+xml" }));
      const image = make("img", { src: url, alt: one.words, width: one.width, height: one.height });
      await image.decode().catch(() => {});
      URL.revokeObjectURL(url);
      if (mine !== last) return;
      hold.replaceChildren(image);
      if (scrolls) hold.setAttribute("aria-label", one.title);
      words.replaceChildren(...marks);
      node.classList.remove("older");
      node.hidden = false;
    },
  };
}

// ---- what is shown of one sock

function sideView(name, page, at) {
  const parts = Object.fromEntries(["verdict", "girth", "places", "counts", "measures", "yarn", "text", "charts", "worn"].map((key) => [key, make("div")]));
  const [foot, rest] = [picture(), picture()];
  const buttons = make("p", {});
  const heading = make("h2", {}, name);
  const node = make("section", { class: "side", "aria-label": name },
    heading, buttons,
    make("div", { class: "pairs" },
      make("div", {}, parts.verdict, make("h3", {}, "Girth over the heel"), parts.girth, parts.places),
      make("div", {}, foot.node, parts.worn),
      make("div", {}, make("h3", {}, "Stitches and rounds"), parts.counts, parts.measures, parts.yarn),
      make("div", {}, make("h3", {}, "At rest"), rest.node)),
    make("h3", {}, "The heel in words"), parts.text,
    make("h3", {}, "The heel's chart"), parts.charts);
  const charts = [];

  const draw = {
    reckoned(answer) {
      parts.counts.replaceChildren(table("", [], answer.counts));
      parts.measures.replaceChildren(table("Finished measures", ["", "asked", "comes to"], answer.measures.map((row) => row.map(inWords))));
      parts.text.replaceChildren(make("pre", { tabindex: "0", "aria-label": "The heel in words" }, answer.text));
      yarn(answer);
      sitting(answer);
      parts.worn.replaceChildren();
      rest.older();
      charts.forEach((one) => one.older());
    },
    drawn(answer) {
      yarn(answer);
      while (charts.length < answer.charts.length) {
        charts.push(picture(true));
        parts.charts.append(charts.at(-1).node);
      }
      charts.forEach((one, place) => {
        if (place < answer.charts.length) one.show(answer.charts[place]);
        else one.node.hidden = true;
      });
    },
    measured(answer) { sitting(answer); },
    rest(answer) { rest.show(answer.rest, mark(false)); },
    worn(answer) {
      foot.show(answer.foot, mark(false, "drawn onto the foot"));
      parts.worn.replaceChildren(make("p", { class: "small" }, answer.worn));
    },
  };

  function yarn(answer) {
    if (!answer.yarn) return;
    parts.yarn.replaceChildren(make("p", {}, "Yarn of one sock: ", answer.yarn.words, " ", mark(answer.yarn.is_estimated, answer.yarn.is_estimated ? undefined : "counted")));
  }

  function sitting(answer) {
    if (!answer.verdict) return;
    const guess = answer.is_estimated;
    parts.verdict.replaceChildren(
      ...answer.verdict.lines.map((line, place) => make("p", {}, ...(place ? [line] : [mark(guess), " ", make("strong", {}, line)]))),
      ...answer.cautions.map((words) => make("p", { class: "caution" }, make("strong", {}, "Caution. "), words)));
    foot.show(answer.foot, mark(guess), "colour: how far it is stretched at its places");
    parts.girth.replaceChildren(girth(answer.heel_girth, guess));
    parts.places.replaceChildren(table("Stretch at its places", ["", `foot, ${unit()}`, `sock, ${unit()}`, "stretch", "sits"], answer.places.map((one) => [
      one.place, `${length(one.foot_mm)}${one.foot_is_estimated ? " ?" : ""}`, length(one.sock_mm), times(one.stretch), one.feel])),
      make("p", { class: "small" }, "? is a measure of the foot that was estimated. ", answer.accuracy));
  }

  return {
    node,
    draw(answer) { draw[answer.stage](answer); },
    name(words, isMoving, both) {
      heading.textContent = words;
      heading.hidden = !both;
      node.setAttribute("aria-label", words);
      node.classList.toggle("moving", both && isMoving);
      buttons.replaceChildren(...(both ? [
        make("button", { type: "button", disabled: isMoving, onclick: () => page.move(at()) }, isMoving ? "You are moving this one" : "Move this one"), " ",
        make("button", { type: "button", onclick: () => page.letGo(at()) }, "Let it go")] : []));
    },
  };
}

function table(caption, head, rows) {
  return make("table", {}, caption ? make("caption", {}, caption) : null,
    head.length ? make("thead", {}, make("tr", {}, ...head.map((one, place) => make("th", { scope: "col", class: place ? "n" : "" }, one)))) : null,
    make("tbody", {}, ...rows.map(([first, ...others]) => make("tr", {}, make("th", { scope: "row" }, first),
      ...others.map((one) => make("td", { class: head.length ? "n" : "" }, one))))));
}

function girth(one, guess) {
  const longest = Math.max(one.foot_mm, one.sock_mm);
  const part = ([words, mm], at) => {
    const node = make("span", { class: at % 2 ? "two" : "one", title: `${words}: ${length(mm)} ${unit()}` }, mm > 12 ? length(mm) : "");
    node.style.width = `${(100 * mm) / longest}%`;
    return node;
  };
  const sock = make("div", { class: "bar", "aria-hidden": "true" }, ...one.parts.map(part));
  sock.style.width = "100%";
  const foot = make("div", { class: "bar", "aria-hidden": "true" }, make("span", { class: "foot" }, length(one.foot_mm)));
  foot.style.width = `${(100 * one.foot_mm) / longest}%`;
  return make("div", {},
    make("p", {}, `The sock at rest: ${length(one.sock_mm)} ${unit()}. `, mark(guess)),
    make("div", { class: "bars" }, sock, foot),
    table("Where that girth lies", ["", `at rest, ${unit()}`, `on the foot, ${unit()}`], one.parts.map(([words, ...mm]) => [words, ...mm.map(length)])),
    make("p", {}, `The foot: ${length(one.foot_mm)} ${unit()}${one.foot_is_estimated ? ", estimated" : ""}; the sock is stretched ${times(one.stretch)} times.`));
}

// ---- the page

class Page {
  constructor(model, el) {
    this.model = model;
    this.sides = [];
    this.views = [];
    this.moving = 0;
    this.runs = Math.floor(Math.random() * 1e9); // a notebook may show the same widget twice
    this.tried = [];
    this.controls = new Map();
    this.groups = new Map();
    this.before = [];
    this.left = model.get("left"); // of a notebook: the plain picture that stays without a kernel
    this.build(el);
    model.on("msg:custom", (answer) => this.hear(answer));
    this.ask({ ask: "begin" });
  }

  build(el) {
    this.title = make("h1", {}, "Try a sock by hand");
    this.sizes = make("select", { "aria-label": "Size", onchange: () => this.ask({ ask: "begin", size: this.sizes.value }) });
    this.sizeLabel = make("label", { hidden: true }, "Size ", this.sizes);
    this.beside = make("button", { type: "button", onclick: () => this.hold() }, "Hold beside");
    this.units = make("select", { "aria-label": "Lengths in", onchange: () => this.measureIn(this.units.value === "in") },
      make("option", { value: "cm" }, "cm"), make("option", { value: "in" }, "inches"));
    this.back = make("button", { type: "button", disabled: true, onclick: () => this.goBack() }, "Back");
    this.now = make("div", { class: "told", role: "status", "aria-live": "polite" }, "The sock is being worked out.");
    this.jump = make("button", { type: "button", class: "jump", onclick: () => this.goAcross() }, "See it");
    const bar = make("div", { class: "now" }, this.now, this.jump);
    new ResizeObserver(() => this.root.style.setProperty("--bar", `${bar.offsetHeight}px`)).observe(bar);
    this.said = make("div", { role: "alert" });
    this.moves = make("div", { class: "moves", role: "group", "aria-label": "What can be moved" });
    this.list = make("ol", { class: "tried" });
    this.name = make("input", { type: "text", maxlength: "85", autocomplete: "off", spellcheck: "false" });
    this.took = make("p", { role: "status" });
    const take = make("form", { class: "take", onsubmit: (event) => { event.preventDefault(); this.take(); } },
      make("label", {}, "Write the design file", this.name), make("button", { class: "main" }, "Take it"));
    this.shown = make("div", { class: "sides" });
    this.root = make("div", { class: "lw-bench", "data-stage": "begin" },
      make("div", { class: "head" }, make("div", { class: "grow" }, this.title), this.sizeLabel, make("label", {}, "Lengths in ", this.units), this.back, this.beside),
      bar, this.said,
      make("div", { class: "body" },
        make("div", {}, this.moves),
        make("div", { class: "seen" }, this.shown,
          make("h2", {}, "Take it"), take, this.took,
          make("h2", {}, "What was tried"), make("p", { class: "small" }, "Press one to go back to it."), this.list)));
    this.root.hidden = Boolean(this.left); // until somebody answers
    el.replaceChildren(this.root);
  }

  // -- asking

  ask(question) {
    const run = ++this.runs;
    this.model.send({ ...question, run });
    clearTimeout(this.silence);
    this.silence = setTimeout(() => this.lost("There is no answer. In a notebook, its kernel must be running: run the cell again."), SILENCE_MS);
    return run;
  }

  look(at, { now = false } = {}) {
    const side = this.sides[at];
    if (side.waiting && !now) {
      side.again = true;
      return;
    }
    side.waiting = true;
    side.again = false;
    side.asked = performance.now();
    side.run = this.ask({ ask: "look", side: at, size: this.size, choices: side.choices });
  }

  moved(key, value) {
    const side = this.sides[this.moving];
    const time = performance.now();
    if (key !== this.lastKey || time - this.lastMoved > BURST_MS) this.remember();
    [this.lastKey, this.lastMoved] = [key, time];
    const choices = { ...side.choices, [key]: value };
    if (key.endsWith(".kind")) {
      const part = key.slice(0, -4);
      for (const other of Object.keys(choices)) if (other.startsWith(part) && other !== key) delete choices[other];
    }
    side.choices = choices;
    this.look(this.moving);
  }

  remember() {
    const good = this.sides[this.moving].good;
    if (good && JSON.stringify(good) !== JSON.stringify(this.before.at(-1))) this.before.push(good);
    this.back.disabled = !this.before.length;
  }

  choose(choices) {
    Object.assign(this.sides[this.moving], { choices: { ...choices }, isChosen: true });
    this.lastKey = null;
    this.look(this.moving, { now: true });
  }

  goBack() {
    const last = this.before.pop();
    this.back.disabled = !this.before.length;
    if (last) this.choose(last);
  }

  hold() {
    this.sides[1] = { ...this.sides[0], waiting: false, again: false };
    this.moving = 1;
    this.arrange();
    this.look(1, { now: true });
  }

  move(at) {
    this.moving = at;
    this.before = [];
    this.back.disabled = true;
    this.arrange();
    this.showControls(this.sides[at].controls);
  }

  letGo(at) {
    const [kept, view] = [this.sides[1 - at], this.views[1 - at]];
    [this.sides, this.views] = [[kept], [view]];
    this.moving = 0;
    this.arrange();
    this.showControls(kept.controls);
    this.look(0, { now: true });
  }

  // Where both don't stand beside each other: from what is moved to what is seen, and back.
  goAcross() {
    const isSeen = this.shown.getBoundingClientRect().top < innerHeight / 2;
    (isSeen ? this.moves : this.shown).scrollIntoView({ block: "start" });
    this.jump.textContent = isSeen ? "See it" : "Move it";
  }

  take() {
    this.took.textContent = "";
    this.taking = this.ask({ ask: "take", size: this.size, choices: this.sides[this.moving].choices, name: this.name.value.trim() });
  }

  measureIn(inches) {
    inInches = inches;
    this.units.value = inches ? "in" : "cm";
    this.showControls(this.sides[this.moving].controls);
    this.showTried(this.tried);
    this.sides.forEach((_, at) => this.look(at, { now: true }));
  }

  // -- hearing

  hear(answer) {
    clearTimeout(this.silence);
    if (answer.stage === "lost") this.lost(answer.words);
    else if (answer.stage === "begun") this.begun(answer);
    else if (answer.stage === "taken") this.took.textContent = `Written: ${answer.name} in ${answer.folder}`;
    else if (answer.run === this.taking) this.took.textContent = answer.words;
    else this.looked(answer);
  }

  lost(words) {
    this.said.replaceChildren(make("p", { class: "caution" }, words));
    this.sides.forEach((side) => { side.waiting = false; });
  }

  begun(answer) {
    if (this.left && this.root.hidden) {
      this.root.hidden = false;
      document.head.append(make("style", {}, `[data-lw-left="${this.left}"] { display: none; }`));
    }
    this.size = answer.size;
    this.title.textContent = answer.title;
    this.sizes.replaceChildren(...answer.sizes.map((name) => make("option", { value: name }, name || "one size")));
    this.sizes.value = answer.size;
    this.sizeLabel.hidden = answer.sizes.length < 2;
    if (!this.name.value) this.name.value = answer.offered;
    this.sides = [{ choices: answer.choices, controls: answer.controls, good: answer.choices }];
    this.views = this.views.slice(0, 1);
    this.moving = 0;
    this.before = [];
    this.back.disabled = true;
    if (!this.units.dataset.told) inInches = answer.in_inches;
    this.units.dataset.told = "yes";
    this.units.value = inInches ? "in" : "cm";
    this.showControls(answer.controls);
    this.showTried(answer.tried);
    this.arrange();
    this.look(0, { now: true });
  }

  looked(answer) {
    const side = this.sides[answer.side];
    if (!side || answer.run !== side.run) return;
    this.said.replaceChildren();
    if (answer.stage === "refused") this.refused(side, answer);
    else {
      if (answer.stage === "reckoned") this.reckoned(side, answer);
      this.views[answer.side].draw(answer);
      side.shown = { ...(answer.stage === "reckoned" ? {} : side.shown), ...answer };
      if (answer.tried) this.showTried(answer.tried);
      if (this.left && answer.stage === "worn") this.model.send({ ask: "keep" });
      this.showNow();
    }
    const took = performance.now() - side.asked;
    requestAnimationFrame(() => {
      this.root.dataset.stage = answer.stage;
      this.root.dataset[`${answer.stage}Ms`] = Math.round(took + (performance.now() - side.asked - took));
    });
    if (side.waiting && (answer.stage === "reckoned" || answer.stage === "refused")) {
      side.waiting = false;
      if (side.again) this.look(answer.side);
    }
  }

  reckoned(side, answer) {
    side.controls = answer.controls;
    side.good = answer.choices;
    if (!side.again) side.choices = answer.choices;
    this.controls.forEach((one) => one.accept());
    if (side === this.sides[this.moving]) this.showControls(answer.controls, side.isChosen);
    side.isChosen = false;
  }

  refused(side, answer) {
    this.controls.forEach((one) => one.accept());
    const near = [answer.key, this.lastKey].find((key) => this.controls.has(key))
      ?? [...this.controls.keys()].find((key) => key.startsWith(answer.key));
    const place = answer.key && this.lastKey?.startsWith(`${answer.key}.`) ? this.lastKey : near;
    const one = this.controls.get(place);
    if (one) one.refuse(answer.words, () => { one.input.focus(); this.choose(side.good); });
    else this.said.replaceChildren(make("p", { class: "caution" }, answer.words));
  }

  // -- showing

  showControls(all, isChosen = true) {
    const held = this.root.getRootNode().activeElement;
    const kept = new Map();
    const groups = new Map();
    for (const told of all) {
      const one = inUnits(told);
      let made = this.controls.get(one.key);
      const like = JSON.stringify([one.kind, one.options, one.step, one.unit, one.can_be_left, one.words]);
      if (made && made.like === like) made.update(one, isChosen);
      else made = control(one, (key, value) => this.moved(key, typeof value === "number" ? Number((value * one.scale).toFixed(3)) : value));
      kept.set(one.key, made);
      groups.set(one.group, [...(groups.get(one.group) ?? []), made.node]);
    }
    this.controls = kept;
    for (const [name, nodes] of groups) {
      if (!this.groups.has(name)) {
        const inside = make("div");
        const open = name === "Heel" || name === "Fit";
        this.groups.set(name, inside);
        this.moves.append(make("details", { class: "group", open }, make("summary", {}, name), inside));
      }
      const inside = this.groups.get(name);
      const same = inside.childNodes.length === nodes.length && nodes.every((node, place) => inside.childNodes[place] === node);
      if (!same) inside.replaceChildren(...nodes);
    }
    if (held && this.root.contains(held) && held !== this.root.getRootNode().activeElement) held.focus({ preventScroll: true });
  }

  arrange() {
    const both = this.sides.length > 1;
    this.sides.forEach((side, at) => {
      const view = this.views[at] ?? sideView(SIDES[at], this, () => this.views.indexOf(view));
      this.views[at] = view;
      view.name(SIDES[at], at === this.moving, both);
    });
    this.shown.classList.toggle("both", both);
    const nodes = this.views.map((view) => view.node);
    if (this.shown.childNodes.length !== nodes.length || nodes.some((node, at) => this.shown.childNodes[at] !== node)) this.shown.replaceChildren(...nodes);
    this.beside.hidden = both;
    this.showNow();
  }

  showNow() {
    const lines = this.sides.map((side, at) => {
      const shown = side.shown;
      if (!shown?.counts) return null;
      const told = [make("strong", {}, this.sides.length > 1 ? `${SIDES[at]}: ${shown.counts[0][1]}` : shown.counts[0][1])];
      if (shown.verdict) {
        told.push(make("span", {}, `${shown.verdict.short};`), make("span", {}, `heel ${length(shown.heel_girth.sock_mm)} ${unit()}, ${times(shown.heel_girth.stretch)} times`), mark(shown.is_estimated));
      }
      return make("div", { class: "one" }, ...told.flatMap((one) => [one, " "]));
    });
    const found = lines.filter(Boolean);
    if (found.length) this.now.replaceChildren(...found);
  }

  showTried(tried) {
    this.tried = tried;
    const now = JSON.stringify(this.sides[this.moving]?.choices ?? {});
    this.list.replaceChildren(...tried.filter((one) => one.size === this.size).reverse().map((one) => make("li", {},
      make("button", { type: "button", "aria-current": JSON.stringify(one.choices) === now ? "true" : undefined, onclick: () => { this.remember(); this.choose(one.choices); } },
        make("strong", {}, `${one.number}. ${one.words}`), make("span", {}, `${one.verdict}; heel ${length(one.heel_mm)} ${unit()}`)))));
  }
}

export default {
  render({ model, el }) {
    const page = new Page(model, el);
    return () => { clearTimeout(page.silence); };
  },
};
