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
      if (look && look[1] >= 0 && !this.endings.has(look[1])) {
        this.settle(look[1], [tables.groups[look[1]][0].map(() => 0)]);
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
    if (look[1] < 0) return [this.tables.words[this.find(look[0])]];
    return [...new Set(this.endings.get(look[1]).map((ending) => this.way(look, row[2], ending)))].sort();
  }

  way(look, kind, ending) {
    const ways = new Set(ending[0].map((states) => this.last(look, kind, states, ending[2])));
    return ways.size === 1 ? [...ways][0] : "depends on which pulls first";
  }

  last(look, kind, states, chatters) {
    const seen = this.seen(look, states);
    if (seen.size === 1) return [...seen][0];
    if (!kind) return "comes and goes";
    return kind === "cam" ? "turns" : chatters ? "chatters" : "flashes";
  }

  seen(look, states) {
    const seen = new Set();
    for (const state of states) {
      this.put(look[1], state);
      seen.add(this.tables.words[this.find(look[0])]);
    }
    return seen;
  }

  // Whether an alarm sounds, also for a moment only while relays and cams are on their way.
  sounds(row) {
    const look = row[3 + this.side];
    if (!look) return false;
    if (look[1] < 0) return this.words(row)[0] === "there";
    return this.endings.get(look[1]).some((e) => this.seen(look, [...e[0].flat(), ...e[1]]).has("there"));
  }
}
