"""Pairs of the catalogue that a restorer meets: what is lost, gained and to be done."""

from comparisons import SHORTFALLS, alone, pairs, rows, says, shipped, work


def test_two_speed_motor_needs_an_earth_wire_and_its_second_brush_is_covered() -> None:
    comparison = shipped("wiper-motor-one-speed", "wiper-motor-two-speed")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison) == {"M": "53", "P": "53a", "S": "31b", "case": "31"}
    assert work(comparison, "case") == ("make an earth wire to it: the original was earthed by its mounting",)
    assert work(comparison, "53b") == ("cover it, or connect what is new",)
    assert rows(comparison, *SHORTFALLS) == set()
    assert rows(comparison, "gained") == {("gained", "wipe fast", "none", "between 53b and 31", "always")}


def test_one_speed_motor_loses_the_second_speed() -> None:
    comparison = shipped("wiper-motor-two-speed", "wiper-motor-one-speed")
    assert comparison.verdict == "fits with losses"
    assert rows(comparison, *SHORTFALLS) == {("lost", "wipe fast", "between 53b and 31", "none", "always")}
    assert alone(comparison) == (["53b"], [])


def test_a_position_that_only_the_original_has_is_lost() -> None:
    comparison = shipped("wiper-switch-two-speed", "wiper-switch-one-speed")
    assert rows(comparison, *SHORTFALLS) == {
        ("lost", "wiper: fast", "a position", "none", "always"),
        ("lost", "15 with 53b", "joined", "none", "with wiper at fast"),
    }


def test_positions_are_compared_by_meaning_and_not_by_label() -> None:
    comparison = shipped("wiper-switch-one-speed", "wiper-switch-two-speed")
    assert ("kept", "B with M", "joined", "joined", "with wiper at slow") in rows(comparison, "kept")
    assert ("gained", "15 with 53b of the other", "none", "joined", "with wiper at fast") in rows(
        comparison, "gained"
    )
    assert comparison.verdict == "fits with rewiring"


def test_four_terminal_dip_relay_loses_the_flash_and_takes_its_coil_feed_elsewhere() -> None:
    comparison = shipped("dip-relay-five", "dip-relay-four")
    assert comparison.verdict == "fits with losses"
    assert alone(comparison) == (["B"], [])
    assert work(comparison, "B") == ("its end stays live: cover it and tie it back",)
    assert rows(comparison, *SHORTFALLS) == {
        ("lost", "B with M", "joined", "none", "with armature pulled and beam dipped"),
        ("changed", "coil of armature", "between B and S", "between 56 and S", "always"),
        ("changed", "M", "joined to B", "joined to 56", "with armature pulled and beam main"),
    }


def test_five_terminal_dip_relay_does_all_that_four_did_once_it_has_its_feed() -> None:
    comparison = shipped("dip-relay-four", "dip-relay-five-late")
    assert comparison.verdict == "fits with rewiring"
    assert work(comparison, "30") == ("make a wire to it from a fused feed that is always live",)
    assert rows(comparison, *SHORTFALLS) == set()
    assert {row[1] for row in rows(comparison, "gained")} == {
        "coil of armature",
        "30 with 56a of the other",
        "56a",
    }


def test_other_marks_at_the_same_places_are_still_a_drop_in() -> None:
    comparison = shipped("dip-relay-five", "dip-relay-five-late")
    assert comparison.verdict == "drop-in"
    assert says(comparison, "At the same places the marks differ: B is 30, H is 56, M is 56a, D is 56b.")


def test_relay_of_the_other_layout_is_right_by_mark_and_wrong_by_place() -> None:
    comparison = shipped("relay-changeover-a", "relay-changeover-b")
    assert comparison.verdict == "fits with rewiring"
    assert says(comparison, "The face is laid out otherwise (86, 30): right by mark, wrong by place.")
    assert {row.outcome for row in comparison.behaviours} == {"kept"}


def test_the_small_tap_shares_the_terminal_that_it_was_one_with() -> None:
    comparison = shipped("fuse-box-ten-way", "fuse-box-ten-way-no-tap")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison)["T"] == "7"
    assert work(comparison, "T") == (
        "shares 7 with the end from 7, on a piggyback",
        "re-end it: a 6.3 mm push-on terminal instead of a 2.8 mm push-on terminal",
    )
    assert alone(comparison) == ([], [])


def test_a_tap_that_the_original_did_not_have_is_covered() -> None:
    comparison = shipped("fuse-box-ten-way-no-tap", "fuse-box-ten-way")
    assert comparison.verdict == "fits with rewiring"
    assert work(comparison, "T") == ("nothing has to go there: cover it",)


def test_mirrored_fuse_box_is_paired_across_its_rows() -> None:
    comparison = shipped("fuse-box-four-way", "fuse-box-four-way-mirrored")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison) == {str(n): str((n + 3) % 8 + 1) for n in range(1, 9)}
    assert says(comparison, "Its face is the mirror image of the original's")
    assert says(comparison, "1 (30, there live-fused)")


def test_one_feed_for_two_fuses_is_linked_to_the_second_terminal() -> None:
    comparison = shipped("fuse-box-ten-way", "fuse-box-four-way")
    assert pairs(comparison)["S"] in ("3", "4")
    linked = next(line for line in comparison.terminals if line.original is None)
    assert {linked.other, pairs(comparison)["S"]} == {"3", "4"}
    assert linked.work == (f"link it to {pairs(comparison)['S']}: one terminal did for both",)
    lost = {row[2] for row in rows(comparison, "lost") if row[1] == "fuse"}
    assert "between S and 5" not in lost and "between S and 6" not in lost
    assert "between M and 7" in lost


def test_interior_lamp_without_an_earth_shines_through_the_door_switch() -> None:
    comparison = shipped("interior-lamp-own-earth", "interior-lamp-no-earth")
    assert comparison.verdict == "fits with losses"
    assert rows(comparison, *SHORTFALLS) == {
        ("changed", "interior light", "between B and E", "between B and D", "with lamp switch on")
    }


def test_an_own_earth_beside_the_old_return_is_a_gain() -> None:
    comparison = shipped("interior-lamp-no-earth", "interior-lamp-own-earth")
    assert comparison.verdict == "fits with rewiring"
    assert work(comparison, "E") == ("make an earth wire to it",)
    assert rows(comparison, *SHORTFALLS) == set()


def test_insulated_horn_is_not_replaced_by_one_that_earths_itself() -> None:
    comparison = shipped("horn-insulated", "horn-earthed-by-body")
    assert comparison.verdict == "does not fit"
    assert says(comparison, "between + and case, so it works as long as it is fed")


def test_accessories_that_drop_out_while_cranking_are_lost_in_start_alone() -> None:
    comparison = shipped("ignition-switch-early", "ignition-switch-late")
    assert comparison.verdict == "fits with losses"
    assert rows(comparison, *SHORTFALLS) == {
        ("lost", "A with AC", "joined", "not joined", "with ignition at start")
    }
    back = shipped("ignition-switch-late", "ignition-switch-early")
    assert rows(back, *SHORTFALLS) == {
        ("unintended", "30 with 75", "not joined", "joined", "with ignition at start")
    }


def test_two_feed_terminals_that_are_one_share_the_single_one() -> None:
    comparison = shipped("lighting-switch-two-feeds", "lighting-switch-dimming")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison)["A1"] == pairs(comparison)["A2"] == "30"
    assert rows(comparison, "gained") == {
        (
            "gained",
            "resistor",
            "none",
            "15 ohms between 30 and 58d",
            "with lighting not at off and dimmer dim",
        )
    }


def test_thermal_flasher_wants_more_load_than_the_electronic_one_did() -> None:
    comparison = shipped("flasher-turn-and-hazard", "flasher-thermal")
    assert comparison.verdict == "fits with losses"
    assert ("flasher beat, least current", "weaker") in {(r.what, r.outcome) for r in comparison.ratings}
    better = shipped("flasher-thermal", "flasher-turn-and-hazard")
    assert better.verdict == "fits with rewiring"
    assert pairs(better) == {"B": "49", "L": "49a"}


def test_thirteen_contacts_have_no_place_for_contact_two_of_seven() -> None:
    comparison = shipped("trailer-socket-7", "trailer-socket-13")
    assert comparison.verdict == "fits with losses"
    assert pairs(comparison) == {mark: mark for mark in "134567"}
    assert alone(comparison)[0] == ["2"]
    assert rows(comparison, *SHORTFALLS) == set()


def test_changed_numbers_are_paired_by_side() -> None:
    comparison = shipped("turn-switch-early", "turn-switch-numbers-changed")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison) == {"F": "F", "1": "2", "2": "1"}


def test_heavier_lamps_ask_more_of_the_wires_and_weaker_ones_are_a_loss() -> None:
    assert shipped("headlamp-r2", "headlamp-h4").verdict == "fits with rewiring"
    assert says(shipped("headlamp-r2", "headlamp-h4"), "main beam: 45 W on the original, 60 W on the other")
    assert shipped("headlamp-h4", "headlamp-r2").verdict == "fits with losses"
