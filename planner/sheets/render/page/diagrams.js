// Looks up what the proof found. Nothing is computed here but where hidden states stand after each throw,
// and that is looked up as well: the controls and the state before lead to an ending.
class Side {
  constructor(tables, side) {
    this.tables = tables;
    this.side = side;
    this.at = new Array(tables.variables).fill(0);
    this.endings = new Map();
    const rows = [tables.loads, tables.terminals, tables.wires, tables.potentials, tables.alarms].flat();
    for (const row of rows) {
      const look = row[3 + side];
      for (const group of look ? look.slice(1) : []) {
        if (!this.endings.has(group)) this.settle(group, [tables.groups[group][0].map(() => 0)]);
      }
    }
  }

  find(reference) {
    while (reference >= 0) {
      const node = this.tables.nodes[reference];
      reference = node[1 + this.at[node[0]]];
    }
    return -1 - reference;
  }

  put(group, state) {
    this.tables.groups[group][0].forEach((variable, index) => { this.at[variable] = state[index]; });
  }

  settle(group, starts) {
    const found = new Set();
    for (const start of starts) {
      this.put(group, start);
      found.add(this.find(this.tables.groups[group][3]));
    }
    this.endings.set(group, [...found].map((number) => this.tables.endings[number]));
  }

  // Whether this loom has the position; if not, the control stays where it is.
  throwTo(control, detent) {
    const variable = control.at[this.side];
    const value = detent[1 + this.side];
    if (variable < 0 || value < 0) return false;
    if (this.at[variable] !== value) {
      this.at[variable] = value;
      for (const [group, endings] of this.endings) {
        const [, controls, resting] = this.tables.groups[group];
        if (!controls.includes(variable)) continue;
        const starts = new Map();
        for (const state of endings.flatMap((ending) => ending[0]).flat()) {
          const start = state.map((value, index) => (resting[index] ? 0 : value));
          starts.set(start.join(), start);
        }
        this.settle(group, starts.values());
      }
    }
    return true;
  }

  // The words of a row, one for each way in which it may have come here; nothing if this loom has it not.
  words(row) {
    const look = row[3 + this.side];
    if (!look) return [];
    const groups = look.slice(1);
    const ways = choices(groups.map((group) => this.endings.get(group)));
    return [...new Set(ways.map((endings) => this.way(look, row[2], endings)))].sort();
  }

  way(look, kind, endings) {
    const chatters = endings.some((ending) => ending[2]);
    const ends = choices(endings.map((ending) => ending[0]));
    const ways = new Set(ends.map((each) => this.last(look, kind, each, chatters)));
    return ways.size === 1 ? [...ways][0] : "depends on which pulls first";
  }

  last(look, kind, each, chatters) {
    const seen = this.seen(look, each);
    if (seen.size === 1) return [...seen][0];
    if (!kind) return "comes and goes";
    return kind === "cam" ? "turns" : chatters ? "chatters" : "flashes";
  }

  // What a look is in some states: for each of its groups a list of them.
  seen(look, each) {
    const seen = new Set();
    for (const states of choices(each)) {
      states.forEach((state, index) => this.put(look[1 + index], state));
      seen.add(this.tables.words[this.find(look[0])]);
    }
    return seen;
  }

  // Whether an alarm sounds, also for a moment only while relays and cams are on their way.
  sounds(row) {
    const look = row[3 + this.side];
    if (!look) return false;
    const ways = choices(look.slice(1).map((group) => this.endings.get(group)));
    return ways.some((endings) => this.seen(look, endings.map((e) => [...e[0].flat(), ...e[1]])).has("there"));
  }
}

// Every way to take one of each list.
function choices(lists) {
  return lists.reduce((taken, list) => taken.flatMap((some) => list.map((one) => [...some, one])), [[]]);
}
