"""The published tables that the electrical view leans on, and everything that may be asked of them."""

from dataclasses import dataclass
from functools import cached_property

from planner.model.ampacity import Ampacity, Bundling, Insulation, carried_amps
from planner.model.conductors import Conductor, Gauge, ohms_per_metre
from planner.model.contacts import (
    SwitchFactor,
    SwitchLoad,
    TabCurrent,
    TabScope,
    rating_factor,
    tab_most_mm2,
    tab_test_amps,
)
from planner.model.drops import Circuit, DropLimit, Section, circuit_limit, section_limit
from planner.model.fuses import (
    FuseFact,
    Marked,
    carries_amps,
    drop_ohms,
    opens_amps,
    rating_for_load,
)
from planner.model.published import Published, no_row

LEAST_USUAL_FUSE_AMPS = 5.0  # a cold filament takes several times its amps; common practice, no source


@dataclass(frozen=True)
class Standards:
    """The tables of ``standards/*.csv``.

    Every answer names its source and basis. Areas, currents and volts that are no number above 0 raise
    ValueError; a table without the row that an answer needs raises InputError.
    """

    conductors: tuple[Conductor, ...]
    gauges: tuple[Gauge, ...]
    ampacities: tuple[Ampacity, ...]
    bundlings: tuple[Bundling, ...]
    insulations: tuple[Insulation, ...]
    fuses: tuple[FuseFact, ...]
    switch_factors: tuple[SwitchFactor, ...]
    drop_limits: tuple[DropLimit, ...]
    tabs: tuple[TabCurrent, ...]
    tab_scopes: tuple[TabScope, ...]

    def wire_ohms_per_metre(self, mm2: float, celsius: float = 20.0) -> Published:
        """The most resistance of plain copper wire, in Ω/m.

        ISO 6722, else IEC 60228 class 5; 0.00393 more per kelvin above 20 °C. These are limits, 5 to 16 %
        above 1/58 Ω·mm²/m. Raises ValueError below about -234 °C, too.
        """
        key = (mm2, celsius)
        if key not in self._wire_ohms:
            self._wire_ohms[key] = ohms_per_metre(self.conductors, mm2, celsius)
        return self._wire_ohms[key]

    def insulation_celsius(self, word: str) -> Published:
        """How warm the conductor of a cable may be for good, in degrees Celsius, by its insulation's word."""
        for row in self.insulations:
            if row.word == word:
                return Published(row.celsius, row.source, row.basis)
        raise no_row("insulation", word)

    def wire_amps(
        self, mm2: float, insulation_c: float = 70.0, ambient_c: float = 30.0, bundled: int = 1
    ) -> Published:
        """What a wire carries continuously, in A, with ``bundled`` loaded cables in one bundle.

        Insulation for 70 °C by the handbook's table of vehicle cable (after DIN VDE 0298-4), any other by
        33 CFR 183.425 table 5; what is not listed, as the next lower one. Bundles by DIN VDE 0298-4.
        Raises ValueError for insulation below 60 °C, which no table lists, and for fewer than one cable.
        """
        key = (mm2, insulation_c, ambient_c, bundled)
        if key not in self._wire_amps:
            self._wire_amps[key] = carried_amps(
                self.ampacities, self.bundlings, mm2, insulation_c, ambient_c, bundled
            )
        return self._wire_amps[key]

    # What was asked already: a loom has few sizes and many wires.

    @cached_property
    def _wire_amps(self) -> dict[tuple[float, float, float, int], Published]:
        return {}

    @cached_property
    def _wire_ohms(self) -> dict[tuple[float, float], Published]:
        return {}

    @cached_property
    def _tab_amps(self) -> dict[tuple[str, float], Published | None]:
        return {}

    @cached_property
    def _fuse_opens_amps(self) -> dict[tuple[float, Marked], Published]:
        return {}

    def fuse_carries_amps(self, rated_amps: float, marked: Marked) -> Published:
        """What a fuse carries for good, in A: 80 % of a continuous rating, half of a blowing current."""
        return carries_amps(self.fuses, rated_amps, marked)

    def fuse_opens_amps(self, rated_amps: float, marked: Marked) -> Published:
        """The current, in A, at which a fuse is sure to open; how soon is said in the source.

        135 % of a continuous rating (ISO 8820-3, SAE, UL), or the marked blowing current.
        """
        key = (rated_amps, marked)
        if key not in self._fuse_opens_amps:
            self._fuse_opens_amps[key] = opens_amps(self.fuses, rated_amps, marked)
        return self._fuse_opens_amps[key]

    def fuse_ohms(self, rated_amps: float) -> Published:
        """The most resistance of a fuse, in Ω, by its continuous rating: DIN 72581-3, blade fuses."""
        return drop_ohms(self.fuses, rated_amps)

    def fuse_for_load(self, amps: float) -> Published | None:
        """The least rating of a blade fuse, in A, of which 80 % covers a load; None above the largest.

        ISO 8820-3 ratings. Fuses with conical caps or in glass have other ratings.
        """
        return rating_for_load(self.fuses, amps)

    def fuse_between(self, carries: float, most: float) -> Published | None:
        """The rating, in A, that carries a load and no more than a wire stands; None if there is none.

        Of ``LEAST_USUAL_FUSE_AMPS`` at least where the wire stands so much.
        """
        least = self.fuse_carries_amps(LEAST_USUAL_FUSE_AMPS, "continuous").value
        fuses = (self.fuse_for_load(max(carries, least)), self.fuse_for_load(carries))
        return next((fuse for fuse in fuses if fuse is not None and fuse.value <= most), None)

    def switch_factor(self, load: SwitchLoad, volts: float) -> Published:
        """How many times the load's current a switch is to be rated for; FAA AC 43.13-1B table 11-4."""
        return rating_factor(self.switch_factors, load, volts)

    def tab_amps(self, fitting: str, mm2: float) -> Published | None:
        """The current, in A, at which UL 310 tests the rise of temperature of a tab with such a conductor.

        None for fittings without a published figure: other widths, bullets, screws, studs.
        """
        key = (fitting, mm2)
        if key not in self._tab_amps:
            self._tab_amps[key] = tab_test_amps(self.tabs, fitting, mm2)
        return self._tab_amps[key]

    def tab_most_mm2(self, fitting: str) -> Published | None:
        """The thickest flexible conductor, in mm², that IEC 61210 covers on a tab; None elsewhere."""
        return tab_most_mm2(self.tab_scopes, fitting)

    def drop_limit(self, circuit: Circuit, volts: float) -> Published:
        """The most that a circuit of a system may lose, in V; what it covers is said in the source.

        Handbook figures, for whole circuits from memory; ABYC E-11 for what is general.
        """
        return circuit_limit(self.drop_limits, circuit, volts)

    def section_drop_limit(self, section: Section) -> Published:
        """The most that one section of a loaded 12 V circuit may lose, in V: a trade test guideline."""
        return section_limit(self.drop_limits, section)
