"""Bus pairs and supplies of a plan as JSON objects. Keys are only ever added."""

from __future__ import annotations

from dataclasses import asdict

from xref.harness.json_answers import JsonObject, pin_to_json
from xref.moves.kept_records import BusPair, ModuleSupplies
from xref.moves.kept_texts import expected


def bus_to_json(pair: BusPair) -> JsonObject:
    """Return a bus pair; `ohms` are of the terminators the documents name, null where they name none."""
    before, after = ("", "") if pair.rule else expected(pair)
    return {
        "nets": {"high": pair.high, "low": pair.low},
        "name": pair.name,
        "family": pair.family,
        "same": pair.same,
        "fates": {"high": pair.fates[0], "low": pair.fates[1]},
        "order": "stated" if pair.trunk.stated else "not stated",
        "why_not": pair.trunk.why_not,
        "modules": list(pair.trunk.modules),
        "stubs": list(pair.trunk.stubs),
        "ends": list(pair.trunk.ends),
        "terminators": [asdict(item) for item in pair.terminators],
        "gone": list(pair.gone),
        "leaving": list(pair.leaving),
        "through": list(pair.through),
        "bridged": pair.bridged,
        "longer": [asdict(item) for item in pair.longer],
        "rule": pair.rule,
        "ohms": {"before": pair.ohms_before, "after": pair.ohms_after},
        "expected": {"before": before, "after": after},
    }


def supplies_to_json(module: ModuleSupplies) -> JsonObject:
    """Return the feeds and grounds of a moved module, and how many there are before and after."""
    return {
        "module": module.module,
        "feeds": {"before": module.count("feed"), "after": module.count("feed", after=True)},
        "grounds": {"before": module.count("ground"), "after": module.count("ground", after=True)},
        "lines": [
            {
                "net": line.net,
                "pin": pin_to_json(line.pin),
                "kind": line.kind,
                "ground": line.ground,
                "before": line.before,
                "after": line.after,
                "answer": line.answer,
                "parallel": list(line.parallel),
            }
            for line in module.lines
        ],
    }
