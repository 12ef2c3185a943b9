#!/usr/bin/env python3
"""Times the scenes of bench_scenes.json in MuJoCo, and our own core beside it.

    python3 bench.py
    python3 bench.py --ours 'COMMAND' [--rounds 5]

COMMAND prints one JSON line, {"one_stick_us_per_step": .., "six_sticks_us_per_step": ..}, for
the same scenes: 2000 steps from the start described there. The two engines take turns, so that
both see the same state of the machine. Everything runs on one thread.
"""

import argparse
import json
import shlex
import statistics
import subprocess
import sys
import time

import mujoco
import mujoco.rollout
import numpy as np

from mujoco_scene import (ACCURATE_SETTINGS, CAPSULES, DEFAULT_SETTINGS, build, load, run,
                          set_initial_velocities, step_count)

SETTINGS = {
    "default": DEFAULT_SETTINGS,
    "accurate": ACCURATE_SETTINGS,
    "default_capsules": DEFAULT_SETTINGS | CAPSULES,
    "accurate_capsules": ACCURATE_SETTINGS | CAPSULES,
    # The quickest of some twenty combinations that were tried.
    "fastest_capsules": CAPSULES | {"cone": "elliptic", "disable": ["island", "midphase"]},
}


class Timed:
    """One scene with one set of settings, compiled once and run many times."""

    def __init__(self, scene, settings):
        self.scene = scene
        self.steps = step_count(scene)
        self.model, self.data = build(scene, settings)
        self.state = self.initial_state()

    def reset(self):
        mujoco.mj_resetData(self.model, self.data)
        set_initial_velocities(self.scene, self.data)

    def initial_state(self):
        self.reset()
        spec = mujoco.mjtState.mjSTATE_FULLPHYSICS
        state = np.zeros(mujoco.mj_stateSize(self.model, spec))
        mujoco.mj_getState(self.model, self.data, state, spec)
        return state

    def us_per_step(self):
        """The plain C loop: one call of mj_step with a step count."""
        self.reset()
        start = time.perf_counter()
        mujoco.mj_step(self.model, self.data, nstep=self.steps)
        return (time.perf_counter() - start) / self.steps * 1e6

    def us_per_step_rollout(self):
        """mujoco.rollout, which also stores the state after every step."""
        self.reset()
        start = time.perf_counter()
        mujoco.rollout.rollout(self.model, self.data, self.state, nstep=self.steps)
        return (time.perf_counter() - start) / self.steps * 1e6


def check_state(scene, settings_name):
    """Refuses to time a scene that is not the physical state it claims to be."""
    found = run(scene, SETTINGS[settings_name])
    problems = []
    for e in scene["expect"]:
        value = found[e["key"]]
        if "at_most" in e and not 0 <= value <= e["at_most"]:
            problems.append(f"{e['key']} {value:.6g}, at most {e['at_most']:.6g}")
        if "value" in e and abs(value / e["value"] - 1) * 100 > e["tolerance_percent"]:
            problems.append(f"{e['key']} {value:.6g}, expected {e['value']:.6g}")
    print(f"{scene['id']:12}{settings_name:18}contacts {found['contacts']:3}   "
          f"total force {found['total_force_n']:9.1f} N   "
          f"pins {found['normal_force_pins_n']:8.1f} N   moved {found['moved_m'] * 1000:7.4f} mm   "
          f"largest speed {found['largest_speed_m_s']:.1e} m/s")
    return found["contacts"], problems


def run_ours(command):
    line = subprocess.run(shlex.split(command), check=True, capture_output=True,
                          text=True).stdout.strip().splitlines()[-1]
    return json.loads(line)


def summary(samples):
    return {"median": round(statistics.median(samples), 3), "min": round(min(samples), 3)}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--ours", metavar="COMMAND", help="command that times our own core")
    parser.add_argument("--rounds", type=int, default=5)
    args = parser.parse_args()

    scenes = load("bench_scenes.json")
    contacts, problems = {}, []
    for scene in scenes:
        for name in SETTINGS:
            count, wrong = check_state(scene, name)
            contacts[f"{scene['id']}_{name}"] = count
            problems += [f"{scene['id']} {name}: {w}" for w in wrong]
    if problems:
        sys.exit("\n".join(problems))

    timed = {(s["id"], n): Timed(s, settings) for s in scenes for n, settings in SETTINGS.items()}
    for t in timed.values():
        t.us_per_step()
    loop = {key: [] for key in timed}
    rollout = {key: [] for key in timed}
    ours = {s["id"]: [] for s in scenes}
    if args.ours:
        run_ours(args.ours)
    for _ in range(args.rounds):
        if args.ours:
            printed = run_ours(args.ours)
            for id_ in ours:
                ours[id_].append(printed[f"{id_}_us_per_step"])
        for key, t in timed.items():
            loop[key].append(t.us_per_step())
            rollout[key].append(t.us_per_step_rollout())

    out = {"mujoco_version": mujoco.__version__, "rounds": args.rounds, "contacts": contacts,
           "us_per_step": {}}
    if args.ours:
        out["ours_over_mujoco"], out["ours_over_mujoco_min"] = {}, {}
    print(f"\n{'µs per step':12}{'engine':34}{'median':>10}{'min':>10}{'ours / MuJoCo (median)':>26}{'(min)':>8}")
    for scene in scenes:
        id_ = scene["id"]
        mine = summary(ours[id_]) if args.ours else None
        if mine:
            out["us_per_step"][f"{id_}_ours"] = mine
            print(f"{id_:12}{'ours':34}{mine['median']:10.2f}{mine['min']:10.2f}")
        for name in SETTINGS:
            for way, samples in (("", loop), (" rollout", rollout)):
                s = summary(samples[id_, name])
                key = f"{id_}_mujoco_{name}{way.replace(' ', '_')}"
                out["us_per_step"][key] = s
                ratio = ""
                if mine:
                    out["ours_over_mujoco"][key] = round(mine["median"] / s["median"], 4)
                    # Neighbours on a shared machine only ever add time, so the minima are steadier.
                    out["ours_over_mujoco_min"][key] = round(mine["min"] / s["min"], 4)
                    ratio = (f"{out['ours_over_mujoco'][key]:26.3f}"
                             f"{out['ours_over_mujoco_min'][key]:8.3f}")
                print(f"{id_:12}{'MuJoCo ' + name + way:34}{s['median']:10.2f}{s['min']:10.2f}{ratio}")
    print(json.dumps(out))


if __name__ == "__main__":
    main()
