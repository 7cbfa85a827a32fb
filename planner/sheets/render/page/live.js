// The live picture: switches to throw, and tables and drawings that say what both looms then do.
(() => {
  const source = document.getElementById("states");
  if (!source) return;
  const tables = JSON.parse(source.textContent);
  const signs = {
    off: "○", glows: "◔", dim: "◐", full: "●", over: "◉", flashes: "✶", parks: "○", turns: "↻",
    live: "●", earth: "⏚", "live through a load": "◐", neither: "○",
    "carries current": "→", "no current": "○", "not told": "?", "comes and goes": "✶", "not there": "–",
  };
  const quiet = new Set(["off", "parks", "earth", "neither", "no current", "glows", "not there"]);
  const controls = document.getElementById("controls");
  const summary = document.getElementById("summary");
  const only = document.getElementById("only");
  let sides = [];
  let chosen = [];

  function make(tag, text, parent, attributes = {}) {
    const element = document.createElement(tag);
    element.textContent = text;
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    parent.append(element);
    return element;
  }

  // -- the switches -------------------------------------------------------------------------------------

  function heading(control) {
    if (control.at[0] < 0) return say("only_after", { what: control.title });
    return control.at[1] < 0 ? say("only_before", { what: control.title }) : control.title;
  }

  function naming(control, detent) {
    if (control.at[0] < 0 || control.at[1] < 0) return detent[0];
    if (detent[1] < 0) return say("only_after", { what: detent[0] });
    return detent[2] < 0 ? say("only_before", { what: detent[0] }) : detent[0];
  }

  tables.controls.forEach((control, number) => {
    const set = make("fieldset", "", controls, { "data-control": control.name });
    make("legend", heading(control), set, { dir: "auto" });
    const detents = make("div", "", set, { class: "detents" });
    control.detents.forEach((detent, index) => {
      const label = make("label", "", detents);
      const input = make("input", "", label, { type: "radio", name: `control-${number}`, value: index });
      make("span", naming(control, detent), label, { dir: "auto" });
      input.addEventListener("change", () => { throwTo(number, index); paint(); });
    });
  });

  function throwTo(number, index) {
    chosen[number] = index;
    for (const side of sides) side.throwTo(tables.controls[number], tables.controls[number].detents[index]);
  }

  function rest() {
    sides = [new Side(tables, 0), new Side(tables, 1)];
    chosen = tables.controls.map(() => 0);
    for (const input of controls.querySelectorAll("input")) input.checked = input.value === "0";
    paint();
  }

  // -- what is seen -------------------------------------------------------------------------------------

  function body(name, rows) {
    const table = document.getElementById(name);
    return rows.map((row) => {
      const line = make("tr", "", table, { "data-name": row[0] });
      make("th", row[1], line, { scope: "row", dir: "auto" });
      return { row, line, cells: [0, 1].map(() => make("td", "", line)), last: "" };
    });
  }

  const lists = {
    loads: body("loads", tables.loads),
    terminals: body("terminals", tables.terminals),
    wires: body("wires", tables.wires),
  };
  const potentials = new Map(tables.potentials.map((row) => [row[0], row]));

  // How a row looks in one loom: its states, joined where more than one is possible.
  function said(row, number) {
    return sides[number].words(row).join("|") || "not there";
  }

  function show(cell, state, differs) {
    const text = state.split("|").map((word) => page.states[word]).join(page.words.or);
    cell.textContent = `${differs ? "≠ " : ""}${signs[state] || "◑"} ${text}`;
    cell.className = quiet.has(state) ? "idle" : "busy";
  }

  function paintList(list) {
    for (const entry of list) {
      const states = [0, 1].map((number) => said(entry.row, number));
      if (entry.last !== states.join("/")) {
        entry.last = states.join("/");
        entry.differs = states[0] !== states[1];
        states.forEach((state, number) => show(entry.cells[number], state, number === 1 && entry.differs));
        entry.line.className = entry.differs ? "differs" : "";
        entry.isIdle = !entry.differs && quiet.has(states[0]);
      }
      entry.line.hidden = only.checked && entry.isIdle;
    }
  }

  function stays() {
    const lines = [];
    tables.controls.forEach((control, number) => {
      const detent = control.detents[chosen[number]];
      ["stays_before", "stays_after"].forEach((text, side) => {
        if (control.at[side] < 0 || detent[1 + side] >= 0) return;
        const at = control.detents.find((other) => other[1 + side] === sides[side].at[control.at[side]]);
        lines.push(say(text, { control: control.title, detent: at[0] }));
      });
    });
    return lines;
  }

  function alarms() {
    return tables.alarms.flatMap((row) => {
      const [before, after] = [0, 1].map((number) => sides[number].sounds(row));
      if (!before && !after) return [];
      return [say(before && after ? "alarm_both" : before ? "alarm_before" : "alarm_after", { what: row[1] })];
    });
  }

  function paintDrawings() {
    lit.forEach((found, number) => {
      for (const [part, row, potential] of found) {
        part.dataset.state = said(row, number);
        if (potential) part.dataset.potential = said(potential, number);
        if (part.dataset.load) fill(part, part.dataset.state);
      }
    });
  }

  // How much of a load's circle is filled says how it works, so that nothing hangs on a shade.
  function fill(part, state) {
    const circle = part.querySelector("circle");
    const [x, y, r] = ["cx", "cy", "r"].map((name) => Number(circle.getAttribute(name)));
    const full = `M${x - r} ${y}a${r} ${r} 0 0 1 ${2 * r} 0a${r} ${r} 0 0 1 ${-2 * r} 0z`;
    const shapes = {
      off: "", parks: "", "not there": "", full, flashes: full, turns: full,
      glows: `M${x} ${y}v${-r}a${r} ${r} 0 0 1 ${r} ${r}z`,
      dim: `M${x} ${y - r}a${r} ${r} 0 0 1 0 ${2 * r}z`,
      over: `M${x - 1.4 * r} ${y - 1.4 * r}h${2.8 * r}v${2.8 * r}h${-2.8 * r}z`,
    };
    const other = `M${x} ${y}v${-r}a${r} ${r} 0 0 1 ${r} ${r}zM${x} ${y}v${r}a${r} ${r} 0 0 1 ${-r} ${-r}z`;
    part.querySelector(".level").setAttribute("d", shapes[state] ?? other);
  }

  const byName = Object.fromEntries(Object.entries(lists).map(([name, list]) => [
    name, new Map(list.map((entry) => [entry.row[0], entry.row])),
  ]));

  // -- the drawings: copies of those of the sheet, with what is live drawn in ---------------------------

  const drawings = new Map();
  for (const figure of document.querySelectorAll("figure[data-kind=circuit]")) {
    const name = figure.dataset.name.replace(/-(before|after|both)$/, "");
    if (!drawings.has(name)) drawings.set(name, {});
    drawings.get(name)[figure.dataset.when] = figure;
  }
  const which = document.getElementById("drawing");
  let lit = [[], []];

  // What the titles of both drawings end with alike: "before" and "after" stand in front, also of a single one.
  function titleOf(drawing) {
    const titles = ["before", "after", "both"].filter((when) => drawing[when]).map((when) => drawing[when].dataset.title);
    const words = titles.map((title) => title.split(", "));
    let same = Math.max(1, words[0].length - 1);
    for (const other of words) {
      let alike = 0;
      while (alike < other.length && other[other.length - 1 - alike] === words[0][words[0].length - 1 - alike]) alike++;
      same = Math.min(same, alike);
    }
    return words[0].slice(words[0].length - same).join(", ") || titles[0];
  }

  function draw() {
    lit = ["before", "after"].map((when) => {
      const place = document.getElementById(`drawn-${when}`);
      place.textContent = "";
      const drawing = drawings.get(which.value) || {};
      const figure = drawing[when] || drawing.both;  // one for both, where all wires are alike
      if (!figure) return [];
      const copy = figure.querySelector(".wide").cloneNode(true);
      place.append(copy);
      return parts(copy);
    });
  }

  function parts(drawing) {
    const found = [];
    for (const part of drawing.querySelectorAll("[data-wire]")) {
      const name = `${part.dataset.wire}/${part.dataset.leg || 0}`;
      found.push([part, byName.wires.get(name), potentials.get(name)]);
      const outline = part.querySelector("path");
      if (!outline) continue;
      const halo = outline.cloneNode();
      halo.setAttribute("class", "halo");
      part.prepend(halo);
    }
    for (const part of drawing.querySelectorAll("[data-load]")) {
      found.push([part, byName.loads.get(part.dataset.load)]);
      const level = document.createElementNS("http://www.w3.org/2000/svg", "path");
      level.setAttribute("class", "level");
      part.querySelector("circle").after(level);
    }
    for (const part of drawing.querySelectorAll("[data-terminal]")) {
      found.push([part, byName.terminals.get(part.dataset.terminal)]);
    }
    return found.filter(([, row]) => row);
  }

  for (const [name, drawing] of drawings) make("option", titleOf(drawing), which, { value: name });
  which.addEventListener("change", () => { draw(); paint(); });

  // One of the two in the place of the other shows what the work changes; both, where they fit side by side.
  const pair = document.getElementById("pair");
  const shown = [...document.querySelectorAll("input[name=shown]")];
  function showSide(side) {
    pair.dataset.shown = side;
    for (const choice of shown) choice.checked = choice.value === side;
  }
  const isBeside = () => getComputedStyle(pair).gridTemplateColumns.split(" ").length > 1;
  for (const choice of shown) choice.addEventListener("change", () => showSide(choice.value));
  document.getElementById("drawings").hidden = drawings.size === 0;
  draw();

  function paint() {
    const began = performance.now();
    Object.values(lists).forEach(paintList);
    paintDrawings();
    const busy = [0, 1].map((n) => lists.loads.filter((e) => !quiet.has(said(e.row, n)) && e.row[3 + n]).length);
    const differing = lists.loads.filter((entry) => entry.differs).length;
    summary.textContent = "";
    make("p", say("at_work", { before: busy[0], after: busy[1], differing }), summary);
    for (const line of stays()) make("p", line, summary, { class: "note", dir: "auto" });
    for (const line of alarms()) make("p", line, summary, { class: "bad", dir: "auto" });
    document.getElementById("live").dataset.paint = (performance.now() - began).toFixed(1);
  }

  only.addEventListener("input", paint);
  document.getElementById("rest").addEventListener("click", rest);
  document.getElementById("live").hidden = false;
  showSide("both");
  if (!isBeside()) showSide("after");
  rest();
})();
