"""What a name in a ``when`` may mean."""

from planner.model.loom import Loom
from planner.model.names import meanings_of_name, variables_of
from planner.model.part import Part

SWITCH = Part.model_validate(
    {
        "part": "switch",
        "title": "A switch",
        "family": "switch",
        "source": "invented",
        "terminals": {"a": {}, "b": {}},
        "inside": [{"control": {"name": "knob", "positions": ["off", {"on": "slow"}]}}],
    }
)
LOOM = Loom.model_validate(
    {
        "loom": "small",
        "supply": {"volts": 12, "earthed": "negative"},
        "conditions": {"door": ["shut", "open"], "lid": ["shut", "open"]},
        "places": {
            "dash.one": {"part": "switch", "zone": "dash"},
            "dash.two": {"part": "switch", "zone": "dash"},
            "dash.three": {"part": "unknown-part", "zone": "dash"},
        },
    }
)


def test_conditions_go_by_name_and_variables_of_parts_by_place_and_name():
    assert variables_of(LOOM, {"switch": SWITCH}) == {
        "door": ("shut", "open"),
        "lid": ("shut", "open"),
        "dash.one/knob": ("off", "on"),
        "dash.two/knob": ("off", "on"),
    }


def test_a_bare_name_means_a_condition_first_then_each_variable_of_that_name():
    variables = {"door": ("shut", "open"), "dash.one/door": ("a", "b"), "dash.two/lid": ("a", "b")}
    assert meanings_of_name("door", variables) == ("door",)
    assert meanings_of_name("lid", variables) == ("dash.two/lid",)
    assert meanings_of_name("dash.one/door", variables) == ("dash.one/door",)
    assert meanings_of_name("knob", variables) == ()
    assert meanings_of_name("knob", variables_of(LOOM, {"switch": SWITCH})) == (
        "dash.one/knob",
        "dash.two/knob",
    )
