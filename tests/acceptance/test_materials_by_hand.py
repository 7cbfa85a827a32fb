"""What three jobs need, worked out by hand from their looms and work lists."""

from planned import benched

from planner.model.bench_sheet import Material, Use


def needed(job: str) -> dict[str, tuple[float, float]]:
    """Amount and what of it is on hand, by what it is, the parts left out."""
    return {m.what: (m.amount, m.on_hand) for m in benched(job).materials if m.kind != "part"}


def parts(job: str) -> dict[str, float]:
    """What has to be bought of each part."""
    return {m.what: m.to_buy for m in benched(job).materials if m.kind == "part"}


def steps(job: str, what: str) -> tuple[int, ...]:
    (line,) = [m for m in benched(job).materials if m.what == what]
    return line.steps


def test_two_speed_wipers() -> None:
    """One lead comes from the stock. The motor's earth, at one place with the body: 0.4 m x 1.15 = 0.46 m.

    With 0.1 m allowance 0.56 m. It has a push-on terminal (one sleeve) and a ring. Labels: four ends on the
    switch (W33, W34, W36, W37), three on the motor (W34, W36, W37), two each on N1 and N2: 11. The engine bay
    is wet, so glue over N2's two crimps. A clip every 0.3 m: four on N1, one on N2; one wall for N1.
    """
    assert needed("two-speed-wipers") == {
        "finished lead, yellow/red, 1.5 mm2 (AWG 14), 1.4 m (4 ft 8 in)": (1, 1),
        "wire, black, 1.5 mm2 (AWG 14)": (0.56, 0),
        "push-on terminal, 6.3 mm, for 1.5 mm2 (AWG 14)": (1, 0),
        "ring, M6, for 1.5 mm2 (AWG 14)": (1, 0),
        "insulating sleeve for a terminal": (1, 0),
        "shrink sleeve with glue inside": (2, 0),
        "clip or tie for a new wire": (5, 0),
        "rubber grommet": (1, 0),
        "label strip": (11, 0),
    }
    assert set(parts("two-speed-wipers").values()) == {0}


def test_dynamo_to_alternator() -> None:
    """The main cable is laid anew: 1.1 m of 10 mm2, 1.2 m as cut, a ring at B+, a stud of three at its end.

    On the stud go rings: of the new cable, of C10 (10 mm2) and of C6 (4 mm2). C3 gets a push-on terminal, C7
    a bullet. The diode's lead is 0.15 m, 0.25 m as cut, with a bullet and a 4.8 mm push-on. Sleeves: C3's,
    C7's, the lead's two. C5 is tied back. Labels: C2 twice and C3 twice (dynamo, regulator), C4, C5,
    C6 and C10 (regulator), C7 that the diode is put into, the lead's two: 11; two for the old cable, whose
    ends want caps as well if it stays in. The new one's end waits for the stud. Three clips on its 1.1 m.
    Engine and bulkhead are wet: glue over the four rings and C3's push-on; C3 and C4 meet in a sealed joiner.
    The cable has no fuse: sleeving over its 1.1 m, a boot over its ring at B+; the stud has its own cover.
    The diode's own leads are bare: two bullets, and a sleeve over all of it.
    """
    assert needed("dynamo-to-alternator") == {
        "wire, orange, 1.5 mm2 (AWG 14)": (0.25, 0),
        "wire, red/brown, 10 mm2 (AWG 6)": (1.2, 0),
        "push-on terminal, 4.8 mm, for 1.5 mm2 (AWG 14)": (1, 0),
        "push-on terminal, 6.3 mm, for 1.5 mm2 (AWG 14)": (1, 0),
        "bullet, for 1.5 mm2 (AWG 14)": (2, 0),
        "ring, M6, for 10 mm2 (AWG 6)": (3, 0),
        "ring, M6, for 4 mm2 (AWG 10)": (1, 0),
        "insulating sleeve for a terminal": (4, 0),
        "bullet for a bare lead of the diode": (2, 0),
        "shrink sleeve over the diode and its leads": (1, 0),
        "insulating cap or sleeve, with a tie": (1, 0),
        "insulating cap for an end of an old wire": (2, 0),
        "insulating cap for an end that is off for a while": (1, 0),
        "clip or tie for a new wire": (3, 0),
        "sealed joiner for 2 wires": (1, 0),
        "shrink sleeve with glue inside": (5, 0),
        "insulating boot for a ring, M6, for 10 mm2 (AWG 6)": (1, 0),
        "sleeving or conduit over a wire of 10 mm2 (AWG 6)": (1.1, 0),
        "M6 stud under a cover, for 3 rings, up to 10 mm2": (1, 0),
        "label strip": (13, 0),
    }
    assert parts("dynamo-to-alternator") == {
        "Alternator, 45 A, with its regulator built in": 0,
        "Diode, 6 A": 1,
    }


def test_electric_fan() -> None:
    """Six new wires: five within the engine bay (0.46 m), one from the dash to the bay, (0.8 + 0.4) x 1.15 m.

    Push-on terminals: fan earth, fan feed at both ends, relay 30 in 4 mm2; relay 86 at both ends, relay 85 in
    1.5 mm2. Bullets at the fuse holder, rings on the battery and one on the body. The job names the fan only.
    All but one of the twelve ends are in the wet. Clips: one on each of five wires, four on the sixth. No
    fuse is before the wire from battery to holder: sleeving over its 0.46 m, a boot over its ring.
    """
    assert needed("electric-fan") == {
        "wire, black, 1.5 mm2 (AWG 14)": (0.56, 0),
        "wire, black, 4 mm2 (AWG 10)": (0.56, 0),
        "wire, orange, 4 mm2 (AWG 10)": (0.56, 0),
        "wire, orange/yellow, 1.5 mm2 (AWG 14)": (1.48, 0),
        "wire, red/white, 4 mm2 (AWG 10)": (0.56, 0),
        "wire, red/yellow, 4 mm2 (AWG 10)": (0.56, 0),
        "push-on terminal, 6.3 mm, for 1.5 mm2 (AWG 14)": (3, 0),
        "push-on terminal, 6.3 mm, for 4 mm2 (AWG 10)": (4, 0),
        "bullet, for 4 mm2 (AWG 10)": (2, 0),
        "ring, M6, for 1.5 mm2 (AWG 14)": (1, 0),
        "ring, M8, for 4 mm2 (AWG 10)": (2, 0),
        "insulating sleeve for a terminal": (9, 0),
        "shrink sleeve with glue inside": (11, 0),
        "clip or tie for a new wire": (9, 0),
        "rubber grommet": (1, 0),
        "insulating boot for a ring, M8, for 4 mm2 (AWG 10)": (1, 0),
        "sleeving or conduit over a wire of 4 mm2 (AWG 10)": (0.46, 0),
        "fuse, 25 A continuous": (1, 0),
        "label strip": (12, 0),
    }
    assert parts("electric-fan") == {
        "Electric fan for the radiator, 220 W": 0,
        "Relay with a make contact, 40 A": 1,
        "In-line holder for a blade fuse": 1,
    }


def test_each_line_names_the_steps_that_need_it() -> None:
    plan = benched("electric-fan").plan
    assert [plan.steps[n - 1].do for n in steps("electric-fan", "fuse, 25 A continuous")] == ["fuse"]


def test_what_the_job_names_is_on_hand_and_what_the_plan_asks_for_is_bought() -> None:
    line = Material("wire", "wire", "m", (Use(1, 1.0, 1.0), Use(3, 0.5)))
    assert (line.amount, line.on_hand, line.to_buy, line.steps) == (1.5, 1.0, 0.5, (1, 3))
