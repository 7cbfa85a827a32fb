"""An instrument that shows nothing any more is one loss, whatever it read before in each position."""

from collections.abc import Iterator, Sequence

from planner.proof.compare import Finding


def dark_instruments(findings: Sequence[Finding]) -> Iterator[Finding]:
    """Yield the findings; an instrument that shows nothing any more is one, whatever it read before."""
    dark: dict[tuple[str, str, str, bool, tuple[str, ...]], Finding] = {}
    for finding in findings:
        if finding.kind != "gauge" or finding.outcome != "lost" or finding.after != "off":
            yield finding
            continue
        key = (finding.at, finding.what, finding.duty, finding.accepted, finding.names)
        known = dark.get(key)
        if known is None:
            dark[key] = finding
        else:
            rows, possible = known.rows | finding.rows, known.possible | finding.possible
            dark[key] = known._replace(before="reading", rows=rows, possible=possible)
    yield from dark.values()
