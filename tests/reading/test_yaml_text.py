"""What is written as YAML reads back as an equal model, and is read alike by others."""

import pytest
import yaml
from planned import JOBS, catalogue

from planner.model.job import Job
from planner.model.loom import Loom
from planner.reading.catalogue import read_job
from planner.reading.validate import build
from planner.reading.yaml_source import parse_document
from planner.reading.yaml_text import yaml_of


def back(model: Loom | Job) -> Loom | Job:
    built, problems = build(type(model), parse_document(yaml_of(model), "written.yaml"))
    assert built is not None, problems
    return built


@pytest.mark.parametrize("job", JOBS)
def test_each_shipped_job_and_loom_reads_back_as_it_was(job: str) -> None:
    for model in read_job(job, catalogue()):
        assert back(model) == model


ODD = {
    "loom": "odd",
    "title": 'a "quoted" title: with a colon, a # and a trailing space ',
    "supply": {"volts": 12, "earthed": "negative"},
    "conditions": {"on": ["no", "yes"], "030": [{"0": "nothing"}, {"1.0": "null"}], "y": ["~", "- dash"]},
    "zones": {"z": {"title": "été, {flow} [list] & *alias !tag %x @y `z`"}},
    "wires": [
        {"wire": "0123", "colour": ["BK", "BK/RD"], "mm2": 0.75, "metres": [1, 0.1],
         "ends": ["loose", "earth:z", "unknown"]},
        {"wire": "1e3", "colour": "BK", "mm2": 1.5, "metres": 2, "note": "null",
         "ends": [{"at": "loose", "covered": True, "known": "seen"}, "feed:a,b{c}"]},
    ],
    "feeds": {"feed:a,b{c}": {"role": "30", "when": {"on": "yes"}}},
}  # fmt: skip


def test_texts_that_look_like_something_else_stay_texts() -> None:
    loom = Loom.model_validate(ODD)
    assert back(loom) == loom
    read = yaml.safe_load(yaml_of(loom))
    assert read["wires"][0]["wire"] == "0123" and read["wires"][1]["wire"] == "1e3"
    assert list(read["conditions"]) == ["on", "030", "y"]
    assert read["conditions"]["on"] == ["no", "yes"] and read["conditions"]["y"] == ["~", "- dash"]
    assert read["wires"][1]["note"] == "null" and read["wires"][1]["ends"][0]["covered"] is True


def test_what_is_as_usual_is_left_out_and_one_value_stands_alone() -> None:
    loom = Loom.model_validate(
        {
            "loom": "small",
            "supply": {"volts": 6, "earthed": "positive"},
            "wires": [{"wire": "W1", "colour": "BN", "mm2": 1, "metres": 2, "ends": ["loose", "unknown"]}],
        }
    )
    assert yaml_of(loom).splitlines() == [
        "loom: small",
        "supply: {volts: 6, earthed: positive}",
        "wires:",
        "  - {wire: W1, colour: BN, mm2: 1, metres: 2, ends: [loose, unknown]}",
    ]
