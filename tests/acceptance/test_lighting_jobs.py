"""Lighting: dip relays, fuse boxes, the interior lamp, the lighting switch."""

from planned import (
    covered,
    every,
    held,
    loads,
    made,
    moved,
    new_hazards,
    nothing_is_worse,
    outcomes,
    pair,
    piggybacked,
    planned,
    positions,
    staying,
    steps,
)

from planner.telling.verdict import exit_status

RELAY, BOX, LEVER = "bay.dip-relay", "dash.fuse-box", "column.dip-lever/dip lever"
LIGHTING = "dash.lighting-switch/lighting"
MAIN_BEAMS = {("main beam", "left.headlamp"), ("main beam", "right.headlamp")}
WARNING = ("main-beam warning lamp", "dash.instruments")
# The main beam while the lever is held, by the beam from which it starts; with the headlamps on only on the
# way back from main to dipped.
FLASH = every({LEVER: "pulled", LIGHTING: ["off", "side"], f"{RELAY}/beam": ["dipped", "main"]}) | every(
    {LEVER: "pulled", LIGHTING: "head", f"{RELAY}/beam": "main"}
)
RELAY_MOVES = {
    ("W71", f"{RELAY}:H", f"{RELAY}:56"),
    ("W72", f"{RELAY}:M", f"{RELAY}:56a"),
    ("W73", f"{RELAY}:D", f"{RELAY}:56b"),
}
BOX_MOVES = {
    ("W13", f"{BOX}:B", f"{BOX}:30"),
    ("W14", f"{BOX}:I", f"{BOX}:15"),
    ("W18", f"{BOX}:A", f"{BOX}:75"),
    ("W69", f"{BOX}:S", f"{BOX}:58"),
    ("W72", f"{BOX}:M", f"{BOX}:56a"),
    ("W73", f"{BOX}:D", f"{BOX}:56b"),
    ("W87", f"{BOX}:T", f"{BOX}:7"),
}


class TestDipRelayFiveToFour:
    """The coil of the reproduction is fed by the headlamp feed.

    The constant feed, the middle end of a wire to the horn, is covered and stays whole. Flash and
    stepping with the lamps off are lost, and said.
    """

    plan = staticmethod(lambda: planned("dip-relay-five-to-four"))

    def test_four_ends_land_and_the_constant_feed_is_covered_not_bare(self) -> None:
        assert moved(self.plan()) == RELAY_MOVES
        assert staying(self.plan(), RELAY) == {("W74", "S")}
        assert covered(self.plan()) == {("W19", f"{RELAY}:B")}
        assert made(self.plan()) == {} and new_hazards(self.plan()) == set()

    def test_what_lies_beyond_on_the_chain_stays_fed(self) -> None:
        assert outcomes(self.plan(), "sound the horn", "bay.horn") == {"kept"}

    def test_the_flash_is_lost_exactly_where_the_relay_gave_it(self) -> None:
        assert loads(self.plan(), "lost") == MAIN_BEAMS | {WARNING}
        for what, at in loads(self.plan(), "lost"):
            assert positions(self.plan(), "lost", what, at) == FLASH
        assert loads(self.plan(), "changed") | loads(self.plan(), "unintended") == set()
        assert loads(self.plan(), "gained") == set()

    def test_the_beam_no_longer_changes_with_the_lamps_off(self) -> None:
        assert positions(self.plan(), "changed", "beam", RELAY) == every(
            {LEVER: "pulled", LIGHTING: ["off", "side"], f"{RELAY}/beam": ["dipped", "main"]}
        )

    def test_with_the_headlamps_on_the_dipped_beam_is_as_before(self) -> None:
        assert outcomes(self.plan(), "dipped beam", "left.headlamp") == {"kept"}
        assert outcomes(self.plan(), "dipped beam", "right.headlamp") == {"kept"}

    def test_the_loss_makes_the_verdict_and_the_answer_for_the_road(self) -> None:
        plan = self.plan()
        assert (plan.verdict, exit_status(plan), plan.road) == ("losses", 1, "no")
        assert all("main beam" in why for why in plan.road_why)

    def test_the_way_out_is_shown_beside_it(self) -> None:
        """A relay with five terminals, such as the old one, loses nothing."""
        assert "keep-the-old-part" in {a.because for a in self.plan().alternatives if a.loses == ()}


class TestDipRelayFourToFive:
    """The new coil and flash contact need a constant feed: always live, fused, with room.

    Fuse 1 is that; the battery feed at the edge and at the lighting switch is always live too, but
    nothing protects it.
    """

    plan = staticmethod(lambda: planned("dip-relay-four-to-five"))

    def test_the_constant_feed_is_taken_from_the_fuse_with_room(self) -> None:
        assert set(made(self.plan())) == {pair(f"{BOX}:1", f"{RELAY}:30")}

    def test_the_four_old_ends_stay_on_their_marks(self) -> None:
        assert moved(self.plan()) == set() == covered(self.plan())
        assert staying(self.plan(), RELAY) == {("H3", "56"), ("H4", "56a"), ("H5", "56b"), ("H6", "S")}

    def test_the_flash_is_gained_and_nothing_is_lost(self) -> None:
        assert nothing_is_worse(self.plan())
        assert loads(self.plan(), "gained") == MAIN_BEAMS
        for what, at in MAIN_BEAMS:
            assert positions(self.plan(), "gained", what, at) == FLASH

    def test_the_verdict_is_no_loss_and_the_road_is_not_known_from_a_part_of_the_van(self) -> None:
        assert (self.plan().verdict, exit_status(self.plan())) == ("no-loss", 0)
        assert self.plan().road == "not-known"


class TestFuseBoxWithoutTap:
    """The warning lamp's tap is the same node as the output of fuse 7.

    Its wire shares that output on a piggyback, with a larger end.
    On the feed of the box it would be unfused.
    """

    plan = staticmethod(lambda: planned("fuse-box-without-tap"))

    def test_the_warning_lamp_shares_the_main_beam_output(self) -> None:
        assert moved(self.plan()) == BOX_MOVES
        assert piggybacked(self.plan()) == [f"{BOX}:7"]
        (end,) = steps(self.plan(), "re-end")
        assert (end.fields["wire"], end.fields["fitting"]) == ("W87", "blade-6.3")

    def test_every_numbered_output_keeps_its_wires(self) -> None:
        assert staying(self.plan(), BOX) == {
            ("W19", "1"), ("W20", "1"), ("W28", "2"), ("W29", "2"), ("W31", "2"), ("W33", "3"), ("W35", "3"),
            ("W41", "4"), ("W42", "4"), ("W88", "5"), ("W92", "5"), ("W90", "6"), ("W94", "6"), ("W77", "7"),
            ("W79", "8"), ("W81", "9"), ("W83", "10"),
        }  # fmt: skip

    def test_the_lamp_lights_with_main_beam_and_only_then(self) -> None:
        assert outcomes(self.plan(), *WARNING) == {"kept"}

    def test_nothing_is_made_covered_gained_or_lost(self) -> None:
        plan = self.plan()
        assert made(plan) == {} and covered(plan) == set() and loads(plan, "gained") == set()
        assert nothing_is_worse(plan)
        assert (plan.verdict, exit_status(plan), plan.road) == ("no-loss", 0, "yes")


class TestFuseBoxMirrored:
    """The numbers are as before, the rows are not.

    By role every end changes rows; both rows are full, so one end of each pair is held, insulated, in
    between. On its number, the battery would be on the fused side.
    """

    plan = staticmethod(lambda: planned("fuse-box-mirrored"))

    def test_every_end_changes_rows_the_shared_feed_to_both_its_fuses(self) -> None:
        rows = {"F1": (1, 5), "F2": (2, 6), "F4": (5, 1), "F5": (6, 2), "F6": (7, 3), "F7": (8, 4)}
        expected = {(wire, f"{BOX}:{was}", f"{BOX}:{to}") for wire, (was, to) in rows.items()}
        shared = {("F3", f"{BOX}:3", f"{BOX}:7"), ("F3", f"{BOX}:4", f"{BOX}:8")}
        assert moved(self.plan()) == expected | shared
        assert staying(self.plan(), BOX) == set()

    def test_one_end_of_each_pair_is_held_before_the_other_moves_onto_its_terminal(self) -> None:
        plan = self.plan()
        pairs = [{"1", "5"}, {"2", "6"}, {"3", "7"}, {"4", "8"}]
        marks = {at.partition(":")[2] for _, at in held(plan)}
        assert [len(p & marks) for p in pairs] == [1, 1, 1, 1]
        first_move = min(step.n for step in steps(plan, "move"))
        assert all(step.n < first_move for step in steps(plan, "hold"))

    def test_nothing_else_is_done_and_nothing_changes(self) -> None:
        plan = self.plan()
        assert {step.do for step in plan.steps} == {"remove", "fit", "hold", "move"}
        assert nothing_is_worse(plan) and loads(plan, "gained") == set()
        assert (plan.verdict, exit_status(plan)) == ("no-loss", 0)


class TestInteriorLamp:
    """Both working positions return through the door switches.

    So the lamp cannot be lit while both doors are shut; that is the whole loss.
    The old earth wire is dead and covered. Keeping the old lamp loses nothing.
    """

    plan = staticmethod(lambda: planned("interior-lamp-without-earth"))
    LAMP = ("interior light", "cab.interior-lamp")

    def test_the_loss_is_exactly_on_with_both_doors_shut(self) -> None:
        assert loads(self.plan(), "lost") == {self.LAMP}
        assert positions(self.plan(), "lost", *self.LAMP) == every(
            {
                "cab.interior-lamp/lamp switch": "on",
                "left.door-switch/door": "shut",
                "right.door-switch/door": "shut",
            }
        )
        rest = loads(self.plan(), "changed") | loads(self.plan(), "unintended") | loads(self.plan(), "gained")
        assert rest == set() and new_hazards(self.plan()) == set()

    def test_the_condition_speaks_of_both_doors(self) -> None:
        (line,) = [line for line in self.plan().behaviours if line.outcome == "lost"]
        assert "on" in line.when.split() and "both door switches at shut" in line.when

    def test_feed_and_door_wire_stay_and_the_dead_earth_is_tied_back(self) -> None:
        plan = self.plan()
        assert staying(plan, "cab.interior-lamp") == {("W21", "B"), ("W24", "D")}
        assert covered(plan) == {("W27", "cab.interior-lamp:E")}
        assert moved(plan) == set() and made(plan) == {}

    def test_the_load_space_lamp_on_the_same_feed_is_as_before(self) -> None:
        assert outcomes(self.plan(), "interior light", "cab.load-lamp") == {"kept"}

    def test_it_is_a_loss_but_no_reason_not_to_drive(self) -> None:
        assert (self.plan().verdict, exit_status(self.plan()), self.plan().road) == ("losses", 1, "yes")

    def test_a_remedy_that_loses_nothing_is_offered_with_its_cost(self) -> None:
        cured = [a for a in self.plan().alternatives if a.loses == ()]
        assert [(a.because, a.minutes) for a in cured] == [("keep-the-old-part", 0)]


class TestLightingSwitch:
    """One feed terminal for two, and the second wire is the onward feed of everything else.

    So it is joined, and never left off: by a piggyback all that the van takes would go through its thin tab.
    Dimming is gained. The screw ends get push-on terminals.
    """

    plan = staticmethod(lambda: planned("lighting-switch-one-feed"))
    SWITCH = "dash.lighting-switch"

    def test_both_feed_wires_are_joined_before_the_one_feed_terminal(self) -> None:
        at, joiner = self.SWITCH, f"joint:{self.SWITCH}.30"
        marks = {"W69": ("S", "58"), "W70": ("P", "58d"), "W71": ("H", "56")}
        went = {(w, f"{at}:{was}", f"{at}:{to}") for w, (was, to) in marks.items()}
        went |= {("W5", f"{at}:A1", joiner), ("W13", f"{at}:A2", joiner)}
        assert moved(self.plan()) == went
        assert piggybacked(self.plan()) == [] and covered(self.plan()) == set()
        assert set(made(self.plan())) == {pair(joiner, f"{at}:30")}

    def test_every_screw_end_gets_what_goes_on_where_it_goes(self) -> None:
        ends = {s.fields["wire"]: s.fields["fitting"] for s in steps(self.plan(), "re-end")}
        assert ends == {
            "W5": "ring-6", "W13": "ring-6", "W69": "blade-6.3", "W70": "blade-6.3", "W71": "blade-6.3"
        }  # fmt: skip

    def test_dimming_is_gained_where_the_instruments_are_lit(self) -> None:
        assert loads(self.plan(), "gained") == {("instrument lighting", "dash.instruments")}
        found = positions(self.plan(), "gained", "instrument lighting", "dash.instruments")
        assert found == every({f"{self.SWITCH}/dimmer": "dim", LIGHTING: ["side", "head"]})
        (line,) = [line for line in self.plan().behaviours if line.outcome == "gained"]
        assert line.after == "dim"

    def test_everything_fed_onward_works_as_before(self) -> None:
        assert nothing_is_worse(self.plan())
        for what, at in (
            ("radio", "dash.radio"),
            ("ignition spark", "bay.coil"),
            ("sound the horn", "bay.horn"),
        ):
            assert outcomes(self.plan(), what, at) == {"kept"}
        assert (self.plan().verdict, exit_status(self.plan()), self.plan().road) == ("no-loss", 0, "yes")

    def test_the_feed_without_a_fuse_is_reported(self) -> None:
        told = [r.text for r in self.plan().remarks if r.because == "factory-unfused-feed"]
        assert len(told) == 1 and "no fuse, as from the factory" in told[0]
