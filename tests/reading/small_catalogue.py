"""A small invented catalogue as texts, by file name."""

FILES = {
    "roles.yaml": """\
"30": {rank: 2, meaning: live, source: ours, basis: invented}
"31": {rank: 100, meaning: earth, source: ours, basis: invented}
""",
    "sources.yaml": """\
invented: {title: Invented for the tests, basis: invented}
""",
    "parts/lamps.yaml": """\
- part: lamp
  title: A lamp
  family: lamp
  source: invented
  terminals:
    "30": {role: "30", fitting: bullet}
    case: {role: "31", by: mounting}
  nodes: [inner]
  inside:
    - lamp: {between: ["30", inner], watts: 5, does: glow}
    - contact: {join: [inner, case], when: {door: open}}
- part: sender
  title: A sender with a gauge
  family: sender
  source: invented
  terminals: {a: {holds: 2}, b: {}}
  inside:
    - sender: {between: [a, b], follows: level, ohms: {empty: 10, full: 180}}
""",
    "parts/switches.yaml": """\
- part: switch
  title: A switch
  family: switch
  source: invented
  terminals:
    a: {role: "30"}
    b: {}
    "85": {}
    supply: {}
  inside:
    - control: {name: knob, positions: [off, {on: slow}], returns: off}
    - contact: {join: [a, b], when: {knob: on, armature: [released, pulled]}}
    - coil: {between: ["85", b], ohms: 60, pulls_in_v: 7, drops_out_v: 3, name: armature}
    - step: {name: beam, states: [dipped, main], stepped_by: armature}
    - winding: {between: [a, b], watts: 20, does: turn}
    - cam: {name: blades, states: [parked, sweeping], turned_by: turn}
    - flasher: {between: [a, b], kind: electronic, needs_amps: 0.1, name: beat, supply: [supply, b]}
    - resistor: {between: [a, b], ohms: 5, when: {blades: parked}}
""",
    "looms/small.yaml": """\
loom: small
supply: {volts: 12, earthed: negative}
conditions: {door: [shut, open], level: [empty, full]}
zones: {bay: {}, dash: {}}
routes: [{from: bay, to: dash, metres: 1}]
scheme: {"30": RD}
feeds: {"feed:x": {role: "30", when: {door: open}}}
places:
  dash.switch: {part: switch, zone: dash}
  dash.other: {part: switch, zone: dash}
  bay.lamp: {part: lamp, zone: bay}
  bay.sender: {part: sender, zone: bay}
piggybacks: ["dash.switch:a"]
covered: ["dash.switch:supply"]
wires:
  - {wire: W1, colour: RD, mm2: 1, metres: 1, ends: ["feed:x", "dash.switch:a", loose]}
  - {wire: W2, colour: BK, mm2: 1, metres: 1, ends: [{at: "dash.switch:b"}, "bay.lamp:30"]}
  - {wire: W3, colour: BK, mm2: 1, metres: 1, ends: ["dash.switch:a", "joint:j", unknown, "earth:bay", earth]}
""",
    "jobs/01-do-it.yaml": """\
job: do-it-now
loom: small
swaps:
  - {at: bay.lamp, fit: lamp}
  - {at: bay.sender, fit: nothing}
  - {at: bay.new, fit: switch, zone: bay, mounting: insulated}
wants:
  - {what: glow, at: bay.lamp, is: full, when: {door: open, dash.switch/knob: on}}
accepts:
  - {what: turn, at: [dash.switch, bay.new], is: off}
""",
}
