"""The demonstration catalogue: roles, parts, looms, jobs and the published tables they lean on."""

from pathlib import Path


def directory() -> Path:
    """The folder that holds this catalogue."""
    return Path(__file__).parent
