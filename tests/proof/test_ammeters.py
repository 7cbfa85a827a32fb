"""What an ammeter shows follows what the others take; only one that shows nothing any more is lost."""

from small_looms import Bench, make_parts, prove
from tiny import outcomes

from planner.proof.prove import Proof

PARTS = make_parts(
    """
    ammeter:
      terminals: {BAT: "30", GEN: "30"}
      inside: [{gauge: {between: [BAT, GEN], ohms: 0.002, full_scale_amps: 30, does: ammeter}}]
    switch:
      terminals: {"30": "30", "53": "53"}
      inside:
        - control: {name: wiper, positions: ["off", slow]}
        - contact: {join: ["30", "53"], when: {wiper: slow}}
    two-speed-switch:
      terminals: {"30": "30", "53": "53", 53b: 53b}
      inside:
        - control: {name: wiper, positions: ["off", slow, fast]}
        - contact: {join: ["30", "53"], when: {wiper: slow}}
        - contact: {join: ["30", 53b], when: {wiper: fast}}
    motor:
      terminals: {"53": "53", 53b: 53b, "31": "31"}
      inside:
        - lamp: {between: ["53", "31"], watts: 60, does: wipe slowly}
        - lamp: {between: [53b, "31"], watts: 120, does: wipe fast}
    """
)
BEHIND = [
    "feed = feed:live > meter:BAT",
    "on = meter:GEN > dash:30",
    "slow = dash:53 > motor:53",
    "earth = motor:31 > earth",
]
PAST = [
    "feed = feed:live > meter:BAT",
    "on = feed:live > dash:30",
    "slow = dash:53 > motor:53",
    "earth = motor:31 > earth",
]
FAST = "fast = dash:53b > motor:53b"
FEEDS = {"live": {"role": "30"}}


def proof_of(after: list[str], **wants: object) -> Proof:
    """The proof of other wires with two speeds before and after, with a wish."""
    places = {"meter": "ammeter", "dash": "two-speed-switch", "motor": "motor"}
    one = Bench(PARTS, places, [*BEHIND, FAST], FEEDS)
    two = one.changed(wires=[*after, FAST])
    return prove(one, two, wants=[wants] if wants else [])


def changed(after: list[str], load: str) -> set[str]:
    """The outcomes other than kept when the switch gets a second speed, and the wires become these."""
    one = Bench(PARTS, {"meter": "ammeter", "dash": "switch", "motor": "motor"}, BEHIND, FEEDS)
    two = Bench(PARTS, {"meter": "ammeter", "dash": "two-speed-switch", "motor": "motor"}, after, FEEDS)
    proof = prove(one, two, swaps=[{"at": "dash", "fit": "two-speed-switch"}])
    return {outcome for outcome, _, _ in outcomes(proof, load)} - {"kept"}


def test_what_is_new_behind_an_ammeter_is_gained_as_it_would_be_without_one() -> None:
    assert changed([*BEHIND, FAST], "motor/wipe fast") == {"gained"}


def test_an_ammeter_that_shows_more_is_no_fault() -> None:
    assert changed([*BEHIND, FAST], "meter/ammeter") == set()


def test_an_ammeter_that_shows_nothing_any_more_is_lost() -> None:
    assert changed([*PAST, FAST], "meter/ammeter") == {"lost"}


def test_an_ammeter_that_is_lost_weighs_as_one_loss_whatever_it_read() -> None:
    (fault,) = [f for f in proof_of(PAST).faults if f.what == "ammeter"]
    assert (fault.kind, fault.detail) == ("lost", "reading before, off after")


def test_an_instrument_that_is_wanted_to_work_does_if_it_reads_anything() -> None:
    when = {"dash/wiper": "slow"}
    assert proof_of(BEHIND, what="ammeter", when=when).faults == ()
    (missing,) = [f for f in proof_of(PAST, what="ammeter", when=when).faults if f.kind == "missing"]
    assert missing.what == "ammeter"
