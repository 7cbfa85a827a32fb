"""Random small networks: contacts, fuses, feeds, LEDs, relays with steps, cams and flashers in any muddle."""

import random

from planner.circuit.network import (
    EARTH,
    ArmatureLaw,
    BeatLaw,
    CamLaw,
    Conductance,
    Guard,
    LoadInfo,
    Network,
    Pass,
    Supply,
    Tie,
    Variable,
)

VOLTS = 12.0
OHMS = (2.5, 6.9, 11.0, 28.8, 60.0, 65.5)


def make_network(seed: int, *, most_leds: int = 2) -> Network:
    """A network of up to eight nodes and six variables; the same for the same seed."""
    rng = random.Random(seed)
    sign = rng.choice((1.0, 1.0, -1.0))
    net = Network(volts=sign * VOLTS)
    names = [f"n{i}" for i in range(rng.randint(3, 7))]
    net.nodes |= {EARTH, *names}
    for i in range(rng.randint(1, 3)):
        values = ("off", "on", "more")[: rng.randint(2, 3)]
        net.variables[f"c{i}"] = Variable(f"c{i}", "control", values, values)
    _add_hidden(rng, net)
    everywhere = [EARTH, *names]
    for i in range(rng.randint(2, 8)):
        a, b = rng.sample(everywhere, 2)
        if EARTH in (a, b) and rng.random() < 0.5:
            a, b = rng.sample(names, 2)
        net.ties.append(Tie(a, b, _guard(rng, net, 0.85), ("contact", "p", str(i))))
    for i in range(rng.randint(0, 2)):
        a, b = rng.sample(everywhere, 2)
        net.passes.append(Pass(a, b, _guard(rng, net, 0.2), f"fuse:p:{i}", 8.0))
    leds = 0
    for i in range(rng.randint(1, 5)):
        is_led = leds < most_leds and rng.random() < 0.25
        leds += is_led
        _add_load(
            rng, net, ("p", f"load {i}"), everywhere, _guard(rng, net, 0.15), drop=1.9 if is_led else None
        )
    rivals = len(net.armatures) == 2 and rng.random() < 0.5
    for number, armature in enumerate(net.armatures.values()):
        ends = everywhere
        if rivals:  # fed through the other's break contact
            ends = [f"own {number}", EARTH]
            guard = ((f"p/armature {1 - number}", frozenset({"released"})),)
            net.ties.append(Tie(names[0], ends[0], guard, ("contact", "p", f"rival {number}")))
        _add_load(rng, net, armature.load, ends, (), ohms=60.0 + number)
    for i in range(rng.randint(1, 3)):
        net.supplies.append(Supply(rng.choice(names), _guard(rng, net, 0.3), f"feed:{i}"))
    for beat in list(net.beats.values()):
        a, b = rng.sample(everywhere, 2)
        net.passes.append(Pass(a, b, ((beat.variable, frozenset({"light"})),), beat.label))
    net.watched |= set(rng.sample(names, 2))
    return net


def _add_hidden(rng: random.Random, net: Network) -> None:
    for i in range(rng.choice((0, 1, 1, 2))):
        name, steps = f"p/armature {i}", ()
        net.variables[name] = Variable(name, "armature", ("released", "pulled"), ("released", "pulled"))
        if rng.random() < 0.5:
            step = f"p/step {i}"
            states = ("one", "two", "three")[: rng.randint(2, 3)]
            net.variables[step] = Variable(step, "step", states, states)
            steps = (step,)
        net.armatures[name] = ArmatureLaw(name, ("p", f"coil {i}"), 60.0 + i, 7.3, 2.7, steps)
    if rng.random() < 0.4:
        net.variables["p/cam"] = Variable(
            "p/cam", "cam", ("parked", "out", "back"), ("parked", "out", "back")
        )
        net.cams["p/cam"] = CamLaw("p/cam", "p", (("p", "load 0"),))
    if rng.random() < 0.4:
        values = ("rest", "light", "dark")
        net.variables["p/beat"] = Variable("p/beat", "beat", values, values)
        net.beats["p/beat"] = BeatLaw("p/beat", "flasher:p:0", 0.43, None)


def _guard(rng: random.Random, net: Network, share: float) -> Guard:
    """With some chance a condition on one or two variables."""
    if rng.random() > share:
        return ()
    names = rng.sample(list(net.variables), min(len(net.variables), rng.choice((1, 1, 1, 2))))
    guard = []
    for name in names:
        values = net.variables[name].values
        guard.append((name, frozenset(rng.sample(values, rng.randint(1, len(values) - 1)))))
    return tuple(sorted(guard))


def _add_load(
    rng: random.Random,
    net: Network,
    key: tuple[str, str],
    nodes: list[str],
    guard: Guard,
    *,
    drop: float | None = None,
    ohms: float = 0.0,
) -> None:
    a, b = rng.sample(nodes, 2)
    ohms = ohms or rng.choice(OHMS)
    net.conductances.append(Conductance(key, a, b, ohms, guard, drop))
    net.loads[key] = LoadInfo(key, "led" if drop else "lamp", "none", ohms, VOLTS / ohms, a, b, True)
