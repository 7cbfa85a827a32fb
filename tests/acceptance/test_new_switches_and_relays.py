"""A hazard switch that goes into the flasher's feed, and relays that lie ready for the headlamps."""

from planned import made, moved, nothing_is_worse, pair, planned, steps

HAZARD, FLASHER = "dash.hazard-switch", "dash.flasher"


class TestHazardSwitchOfAllPoles:
    """The flasher's ignition feed goes on the switch, and the switch feeds the flasher."""

    plan = staticmethod(lambda: planned("hazard-switch-of-all-poles"))

    def test_the_old_feed_goes_on_the_switch(self) -> None:
        went = {(wire, to) for wire, _, to in moved(self.plan())}
        assert went == {("W28", f"{HAZARD}:15"), ("W47", f"{FLASHER}:49a")}

    def test_the_wires_that_are_made_are_those_of_the_reasoning(self) -> None:
        assert set(made(self.plan())) == {
            pair(f"{HAZARD}:49", f"{FLASHER}:49"),
            pair(f"{HAZARD}:49a", f"{FLASHER}:49a"),
            pair(f"{HAZARD}:30", "dash.fuse-box:1"),
            pair(f"{HAZARD}:L", "column.turn-switch:1"),
            pair(f"{HAZARD}:R", "column.turn-switch:2"),
            pair(f"{HAZARD}:31", "earth:dash"),
            pair(f"{FLASHER}:31", "earth:dash"),
        }

    def test_all_four_lamps_flash_with_the_key_out(self) -> None:
        assert self.plan().verdict == "no-loss"
        assert not [line for line in self.plan().behaviours if line.outcome in ("lost", "missing")]


class TestHeadlampsWithTwoRelays:
    """The relays of the job are used, each for its own beam, and no other is fitted."""

    plan = staticmethod(lambda: planned("headlamps-with-two-relays"))

    def test_each_old_wire_works_the_coil_of_the_relay_named_for_it(self) -> None:
        went = {(wire, to) for wire, _, to in moved(self.plan()) if "relay" in to}
        assert went == {("E3", "bay.main-relay:86"), ("E4", "bay.dip-relay:86")}

    def test_each_contact_feeds_its_fuses_from_the_battery_by_a_fuse_of_its_own(self) -> None:
        assert set(made(self.plan())) == {
            pair(end, f"bay.{relay}{mark}")
            for relay, fuses in (("main-relay", "bay.lamp-fuses:56a"), ("dip-relay", "bay.lamp-fuses:56b"))
            for mark, end in (
                (":85", "earth:bay"),
                (":87", fuses),
                (":30", f"bay.{relay}.fuse:out"),
                (".fuse:in", "bay.battery:+"),
            )
        }

    def test_no_other_relay_is_fitted_and_nothing_is_lost(self) -> None:
        assert {step.place for step in steps(self.plan(), "fit")} == {
            "left.headlamp",
            "right.headlamp",
            "bay.main-relay",
            "bay.main-relay.fuse",
            "bay.dip-relay",
            "bay.dip-relay.fuse",
        }
        assert (self.plan().verdict, self.plan().unsettled) == ("no-loss", ())


class TestWipersSwitchedInTheirReturn:
    """The park feed feeds the motor, and the run wire is its return."""

    plan = staticmethod(lambda: planned("wipers-switched-in-their-return"))

    def test_the_old_wires_take_over_what_is_needed_now(self) -> None:
        went = {(wire, to) for wire, _, to in moved(self.plan())}
        motor, switch = "scuttle.wiper-motor", "dash.wiper-switch"
        assert went == {("W34", f"{motor}:15"), ("W36", f"{motor}:W"), ("W36", f"{switch}:W")}

    def test_only_earth_wires_are_made(self) -> None:
        assert set(made(self.plan())) == {
            pair("scuttle.wiper-motor:31", "earth:bay"),
            pair("dash.wiper-switch:31", "earth:dash"),
        }

    def test_it_wipes_and_parks_as_before(self) -> None:
        assert self.plan().verdict == "no-loss" and nothing_is_worse(self.plan())


class TestPushMeantForTheFeed:
    """A plain contact is put into the return that the old push worked, whatever its marks mean elsewhere."""

    plan = staticmethod(lambda: planned("launch-push-meant-for-the-feed"))

    def test_both_wires_go_onto_it_and_no_other_is_made(self) -> None:
        push = "helm.horn-push"
        assert {(wire, to) for wire, _, to in moved(self.plan())} == {
            ("L31", f"{push}:30"),
            ("L32", f"{push}:71"),
        }
        assert not made(self.plan())

    def test_the_horn_sounds_as_before(self) -> None:
        assert self.plan().verdict == "no-loss"
        assert nothing_is_worse(self.plan())


class TestKeySwitchAndStarterPush:
    """What the key did at start, key on and push do together: worked otherwise, and so not lost."""

    plan = staticmethod(lambda: planned("key-switch-and-starter-push"))

    def test_the_wire_to_the_solenoid_goes_to_the_push_and_one_feed_is_made_for_it(self) -> None:
        went = {(wire, to) for wire, _, to in moved(self.plan())}
        joined = {(wire, "joint:dash.ignition-switch.15") for wire in ("W14", "W15", "W18")}
        assert went - joined == {("W13", "dash.ignition-switch:30"), ("W11", "dash.starter-push:out")}
        assert joined <= went
        feeds = [where for where in made(self.plan()) if "dash.starter-push:in" in where]
        assert feeds == [pair("dash.starter-push:in", "dash.fuse-box:2")]

    def test_nothing_is_lost_and_cranking_is_told_by_what_works_it(self) -> None:
        assert self.plan().verdict == "no-loss" and self.plan().road == "yes"
        otherwise = {
            line.what: line.instead for line in self.plan().behaviours if line.outcome == "otherwise"
        }
        by = "with the ignition switch on and the starter push pressed"
        assert otherwise == {"crank the engine": by}  # the rest goes on with the key, as it did
        assert not [r for r in self.plan().remarks if r.because == "setting-that-is-gone"]
        assert not [line for line in self.plan().behaviours if line.outcome in ("lost", "unintended")]
