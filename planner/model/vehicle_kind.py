"""What kind of vehicle a loom is of: what it stands on, what it has, where it goes."""

from typing import Literal, NamedTuple

VehicleKind = Literal["car", "tractor", "trailer", "boat"]


class Having(NamedTuple):
    """What the words of a sheet hang on."""

    wheels: bool = True
    doors: bool = True
    road: bool = True


_HAVING: dict[VehicleKind, Having] = {
    "car": Having(),
    "tractor": Having(doors=False),
    "trailer": Having(doors=False),
    "boat": Having(wheels=False, doors=False, road=False),
}


def having(kind: VehicleKind) -> Having:
    """What vehicles of a kind have."""
    return _HAVING[kind]
