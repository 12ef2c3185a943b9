#!/usr/bin/env python3
"""Measures the scenes of scenes.json in MuJoCo.

    python3 cross_check.py           measure and write results.json
    python3 cross_check.py --check   measure, compare with the committed results.json,
                                     exit 1 on a difference

Needs mujoco 4.0.0 and numpy. The files are described in README.md.
"""

import argparse
import json
import sys

import mujoco

from make_scenes import render
from mujoco_scene import ACCURATE_SETTINGS, CAPSULES, DEFAULT_SETTINGS, HERE, load, measure

RESULTS = HERE / "results.json"
# Rounding differs between processors; physics must not.
CHECK_TOLERANCE_PERCENT = 0.05
CHECK_TOLERANCE_DEG = 0.05

# Beside the numbers that count: how much the choice of settings and of the shape matters.
OTHERS = {"with_capsules": ACCURATE_SETTINGS | CAPSULES, "with_default_settings": DEFAULT_SETTINGS}


def six_digits(value):
    return float(f"{value:.6g}")


def percent(measured, expected):
    return round((measured / expected - 1) * 100, 4)


def scenes_fnv1a_64():
    """FNV-1a hash of scenes.json, by which others see that these results belong to it.

    Line ends count as plain ones, whatever the checkout made of them.
    """
    value = 0xCBF29CE484222325
    for byte in (HERE / "scenes.json").read_text(encoding="utf-8").encode():
        value = (value ^ byte) * 0x100000001B3 % 2**64
    return f"{value:016x}"


def results():
    scenes = []
    for scene in load("scenes.json"):
        accurate = measure(scene, ACCURATE_SETTINGS)
        others = {name: measure_or_none(scene, settings) for name, settings in OTHERS.items()}
        rows = []
        for e in scene["expect"]:
            key, expected = e["key"], e["value"]
            row = {"key": key, "expected": six_digits(expected),
                   "measured": six_digits(accurate[key]),
                   "difference_percent": percent(accurate[key], expected)}
            for name, found in others.items():
                if found is not None:
                    row[name] = six_digits(found[key])
            rows.append(row)
            print(f"{scene['id']:28} {key:30} {expected:10.6g} {accurate[key]:10.6g} "
                  f"{row['difference_percent']:+8.4f} % "
                  + "".join(f"  {name} {percent(row[name], expected):+8.4f} %"
                            for name in others if name in row)
                  + f"  allowed {e['tolerance_percent']} %")
        scenes.append({"id": scene["id"], "results": rows})
    return {"engine": "MuJoCo", "version": mujoco.__version__,
            "scenes_fnv1a_64": scenes_fnv1a_64(), "settings": ACCURATE_SETTINGS, "scenes": scenes}


def measure_or_none(scene, settings):
    """A threshold outside the swept range has no number."""
    try:
        return measure(scene, settings)
    except ValueError as error:
        print(error)
        return None


def outside_tolerance(found):
    return [f"{s['id']} {row['key']}: {row['difference_percent']:+} % from the closed form, "
            f"allowed {e['tolerance_percent']} %"
            for s, r in zip(load("scenes.json"), found["scenes"])
            for e, row in zip(s["expect"], r["results"])
            if abs(row["difference_percent"]) > e["tolerance_percent"]]


def differences(fresh, committed):
    out = [f"{name}: {fresh[name]} now, {committed.get(name)} committed"
           for name in ("engine", "version", "scenes_fnv1a_64", "settings") if fresh[name] != committed.get(name)]
    old = {(s["id"], r["key"]): r for s in committed["scenes"] for r in s["results"]}
    new = {(s["id"], r["key"]): r for s in fresh["scenes"] for r in s["results"]}
    out += [f"{' '.join(key)}: only in one of the two" for key in sorted(old.keys() ^ new.keys())]
    for key in sorted(old.keys() & new.keys()):
        for field in ("measured", "expected"):
            now, then = new[key][field], old[key][field]
            allowed = (CHECK_TOLERANCE_DEG if key[1].endswith("_deg")
                       else abs(then) * CHECK_TOLERANCE_PERCENT / 100)
            if abs(now - then) > allowed:
                out.append(f"{' '.join(key)} {field}: {now} now, {then} committed, "
                           f"allowed difference {allowed:.3g}")
    return out


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare with the committed results")
    check = parser.parse_args().check
    found = results()
    problems = outside_tolerance(found)
    if check:
        problems += differences(found, json.loads(RESULTS.read_text(encoding="utf-8")))
    else:
        RESULTS.write_text(render(found) + "\n", encoding="utf-8")
    for line in problems:
        print(line, file=sys.stderr)
    sys.exit(1 if problems else 0)


if __name__ == "__main__":
    main()
