"use strict";
const page = JSON.parse(document.getElementById("page").textContent);

// One of the page's texts, with what stands in braces filled in.
function say(name, values = {}) {
  return page.words[name].replace(/\{(\w+)\}/g, (whole, key) => (key in values ? values[key] : whole));
}

// What is ticked and written in: kept by the browser under this plan's key, saved and read as the file
// that `loomwright sheet JOB --done FILE` reads.
(() => {
  const boxes = [...document.querySelectorAll("input[data-tick]")];
  const notes = [...document.querySelectorAll("[data-note]")];
  const found = document.getElementById("found");
  const said = document.getElementById("said");
  const count = document.getElementById("count");
  const steps = new Set(boxes.filter((box) => box.dataset.step).map((box) => box.dataset.tick));

  function stored() {
    try {
      const kept = JSON.parse(window.localStorage.getItem(page.key));
      return kept && typeof kept === "object" ? kept : {};
    } catch {
      return {};
    }
  }

  function keep() {
    // Only what a person changed: a sheet made later with more of it done keeps its own ticks besides.
    const changed = boxes.filter((box) => box.checked !== box.defaultChecked);
    const ticks = Object.fromEntries(changed.map((box) => [box.dataset.tick, box.checked]));
    const written = Object.fromEntries(notes.filter((note) => note.value).map((n) => [n.dataset.note, n.value]));
    try {
      window.localStorage.setItem(page.key, JSON.stringify({ ticks, written, found: found.value }));
    } catch {
      said.textContent = say("not_kept");
    }
    tell();
  }

  function tell() {
    const done = new Set(boxes.filter((b) => b.checked && steps.has(b.dataset.tick)).map((b) => b.dataset.tick));
    count.textContent = say("ticked", { done: done.size, all: steps.size });
  }

  function put(ticks, written, otherwise) {
    for (const box of boxes) if (box.dataset.tick in ticks) box.checked = ticks[box.dataset.tick] === true;
    for (const note of notes) if (note.dataset.note in written) note.value = String(written[note.dataset.note]);
    if (typeof otherwise === "string") found.value = otherwise;
  }

  // -- the file -----------------------------------------------------------------------------------------

  function save() {
    const done = [...new Set(boxes.filter((box) => box.checked).map((box) => box.dataset.tick))];
    const lines = found.value.split("\n").map((line) => line.trim()).filter(Boolean);
    const written = Object.fromEntries(notes.filter((note) => note.value).map((n) => [n.dataset.note, n.value]));
    const text = JSON.stringify({ plan: page.key, done, found: lines, written }, null, 1) + "\n";
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    link.download = `${page.job}-done.json`;
    link.click();
    URL.revokeObjectURL(link.href);
    said.textContent = say("saved", { file: link.download, job: page.job });
  }

  function parsed(text) {
    try {
      const data = JSON.parse(text);
      if (data && typeof data === "object" && !Array.isArray(data)) return data;
    } catch {
      // not JSON: a line for each step
    }
    const lines = text.split(/\r?\n/).map((line) => line.replace(/ #.*$/, "").trim());
    const used = lines.filter((l) => l && !l.startsWith("#") && !/^([-*]\s+)?\[\s*\]/.test(l));
    const plain = used.map((line) => line.replace(/^([-*]\s+)?\[[xX]\]\s*/, ""));
    const isFound = (line) => /^(part|broken|cut)\s/.test(line) && !steps.has(line);
    return { done: plain.filter((line) => !isFound(line)), found: plain.filter(isFound) };
  }

  function idsOf(entries) {
    const byNumber = Object.fromEntries(boxes.filter((b) => b.dataset.step).map((b) => [b.dataset.step, b.dataset.tick]));
    const known = new Set(boxes.map((box) => box.dataset.tick));
    const ids = new Set();
    let strange = 0;
    for (const entry of entries) {
      const text = String(entry);
      const range = /^(\d{1,6})\s*-\s*(\d{1,6})$/.exec(text);
      const first = /^(\d{1,6})[.:]?(\s|$)/.exec(text);
      if (known.has(text)) ids.add(text);
      else if (range && Number(range[2]) - Number(range[1]) < 10000) {
        for (let n = Number(range[1]); n <= Number(range[2]); n++) if (byNumber[n]) ids.add(byNumber[n]); else strange++;
      } else if (first && byNumber[first[1]]) ids.add(byNumber[first[1]]);
      else strange++;
    }
    return [ids, strange];
  }

  async function read(file) {
    const data = parsed(await file.text());
    const lines = (key) => (Array.isArray(data[key]) ? data[key] : []);
    const [ids, strange] = idsOf(lines("done"));
    const ticks = Object.fromEntries(boxes.map((box) => [box.dataset.tick, ids.has(box.dataset.tick)]));
    put(ticks, data.written && typeof data.written === "object" ? data.written : {}, lines("found").join("\n"));
    keep();
    const told = [say("was_read", { count: ids.size, file: file.name })];
    if (typeof data.plan === "string" && data.plan !== page.key) told.push(say("other_plan"));
    if (strange) told.push(say("not_here", { count: strange }));
    said.textContent = told.join(" ");
  }

  const kept = stored();
  put(kept.ticks || {}, kept.written || {}, kept.found);
  for (const input of [...boxes, ...notes, found]) input.addEventListener("input", keep);
  document.getElementById("save").addEventListener("click", save);
  document.getElementById("read").addEventListener("change", (event) => {
    if (event.target.files.length) read(event.target.files[0]);
    event.target.value = "";
  });
  document.getElementById("clear").addEventListener("click", () => {
    put(Object.fromEntries(boxes.map((box) => [box.dataset.tick, false])), {}, "");
    for (const note of notes) note.value = "";
    keep();
    said.textContent = say("cleared");
  });
  document.getElementById("bar").hidden = false;
  tell();
})();
