"""Builds a scene of scenes.json or bench_scenes.json in MuJoCo, runs and measures it."""

import json
from math import cos, hypot, radians, sin
from pathlib import Path
from xml.sax.saxutils import quoteattr

import mujoco
import numpy as np

HERE = Path(__file__).resolve().parent

# What MuJoCo does when nothing is asked of it, but for the scenes' time step.
DEFAULT_SETTINGS = {}

# Chosen for accuracy. The contact time constant is twice the time step, the shortest that
# MuJoCo allows; impratio stiffens friction against normal force and so slows creep.
ACCURATE_SETTINGS = {
    "cone": "elliptic",
    "solver": "Newton",
    "iterations": 200,
    "tolerance": 1e-12,
    "impratio": 100,
    "solref_time_steps": 2,
    "solref_damping_ratio": 1,
    "solimp": [0.99, 0.999, 0.001, 0.5, 2],
}

# A capsule touches rails, cradles, pins and neighbours where the tube does, because both ends
# overhang in every scene, and MuJoCo has exact contacts for it. Mass and inertia stay the tube's.
CAPSULES = {"tube_shape": "capsule"}


def load(name):
    return json.loads((HERE / name).read_text(encoding="utf-8"))["scenes"]


def joined(values):
    return " ".join(repr(float(v)) for v in values)


def gravity_vector(scene):
    """Side tilt leans gravity towards +x, lengthwise tilt towards +z; never both in a scene."""
    g = scene["gravity_m_s2"]
    side = radians(scene["gravity_tilt_side_deg"])
    lengthwise = radians(scene["gravity_tilt_lengthwise_deg"])
    return (g * sin(side), -g * cos(side) * cos(lengthwise), g * cos(side) * sin(lengthwise))


def model_xml(scene, settings):
    dt = scene["time_step_s"]
    option = "".join(f' {name}="{settings[name]}"'
                     for name in ("cone", "solver", "iterations", "tolerance", "impratio")
                     if name in settings)
    disabled = " ".join(f'{name}="disable"' for name in settings.get("disable", []))
    contact = ""
    if "solref_time_steps" in settings:
        contact += f' solref="{settings["solref_time_steps"] * dt!r} {settings["solref_damping_ratio"]}"'
    if "solimp" in settings:
        contact += f' solimp="{joined(settings["solimp"])}"'
    # MuJoCo's way to say "no friction" is a contact with the normal direction alone.
    frictionless = all(body["friction"] == 0 for body in scene["boxes"] + scene["tubes"])
    parts = [
        '<mujoco><compiler angle="degree" autolimits="true"/>',
        f'<option timestep="{dt!r}" gravity="{joined(gravity_vector(scene))}"{option}>'
        f"<flag {disabled}/></option>",
        f'<default><geom condim="{1 if frictionless else 3}"{contact}/></default><worldbody>',
    ]
    for b in scene["boxes"]:
        parts.append(
            f'<geom name={quoteattr(b["name"])} type="box" size="{joined(b["half_extents_m"])}" '
            f'pos="{joined(b["position_m"])}" euler="0 0 {-b["slope_deg"]!r}" '
            f'friction="{b["friction"]!r} 0 0"/>')
    for i, t in enumerate(scene["tubes"]):
        cross, axial = t["inertia_cross_kg_m2"], t["inertia_axial_kg_m2"]
        parts.append(
            f'<body name="tube_{i}" pos="{joined(t["position_m"])}"><freejoint/>'
            f'<inertial pos="0 0 0" mass="{t["mass_kg"]!r}" diaginertia="{cross!r} {cross!r} {axial!r}"/>'
            f'<geom type="{settings.get("tube_shape", "cylinder")}" size="{t["radius_m"]!r} {t["length_m"] / 2!r}" '
            f'friction="{t["friction"]!r} 0 0"/></body>')
    parts.append("</worldbody></mujoco>")
    return "".join(parts)


def build(scene, settings):
    model = mujoco.MjModel.from_xml_string(model_xml(scene, settings))
    data = mujoco.MjData(model)
    set_initial_velocities(scene, data)
    return model, data


def set_initial_velocities(scene, data):
    for i, t in enumerate(scene["tubes"]):
        # Axes of body and world agree at the start, so no rotation is needed.
        data.qvel[6 * i:6 * i + 3] = t["velocity_m_s"]
        data.qvel[6 * i + 3:6 * i + 6] = t["angular_velocity_rad_s"]


def step_count(scene):
    return round(scene["duration_s"] / scene["time_step_s"])


def box_forces(model, data):
    """Normal force on every named box, and the force of all static bodies on all tubes."""
    normal, total = {}, np.zeros(3)
    force = np.zeros(6)
    for i in range(data.ncon):
        contact = data.contact[i]
        bodies = [model.geom_bodyid[g] for g in contact.geom]
        if 0 not in bodies:
            continue
        static = 0 if bodies[0] == 0 else 1
        mujoco.mj_contactForce(model, data, i, force)
        name = model.geom(contact.geom[static]).name
        normal[name] = normal.get(name, 0.0) + force[0]
        # The contact frame's first axis points from the first geom to the second.
        world = contact.frame.reshape(3, 3).T @ force[:3]
        total += world if static == 0 else -world
    return normal, total


def largest_distance_m(data, start):
    return max(float(np.linalg.norm(data.qpos[7 * i:7 * i + 3] - p)) for i, p in enumerate(start))


def run(scene, settings):
    """Runs a scene and returns its measured quantities by the key of each expectation."""
    model, data = build(scene, settings)
    steps = step_count(scene)
    slope = radians(scene["boxes"][0]["slope_deg"])
    radius = scene["tubes"][0]["radius_m"]
    start = [np.array(t["position_m"]) for t in scene["tubes"]]
    halfway_m = 0.0
    wants_force = any(e["quantity"].endswith("force_n") for e in scene["expect"])
    times, speeds, spins, normals, totals = [], [], [], [], []
    for step in range(1, steps + 1):
        mujoco.mj_step(model, data)
        time_s = step * scene["time_step_s"]
        if step == steps // 2:
            halfway_m = largest_distance_m(data, start)
        if time_s <= scene["measure_from_s"]:
            continue
        times.append(time_s)
        speeds.append(data.qvel[0] * cos(slope) - data.qvel[1] * sin(slope))
        spins.append(-data.qvel[5] * radius)
        if wants_force:
            normal, total = box_forces(model, data)
            normals.append(normal)
            totals.append(float(np.linalg.norm(total)))
    moved = largest_distance_m(data, start)
    measured = {}
    for e in scene["expect"]:
        quantity = e["quantity"]
        if quantity == "acceleration_m_s2":
            value = np.polyfit(times, speeds, 1)[0]
        elif quantity == "spin_acceleration_m_s2":
            value = np.polyfit(times, spins, 1)[0]
        elif quantity == "normal_force_n":
            value = np.mean([sum(n.get(b, 0.0) for b in e["boxes"]) for n in normals])
        elif quantity == "total_force_n":
            value = np.mean(totals)
        elif quantity == "moved_m":
            value = moved
        elif quantity in ("largest_speed_m_s", "threshold_deg"):
            continue
        else:
            raise ValueError(f"unknown quantity {quantity}")
        measured[e["key"]] = float(value)
    measured["moved_m"] = moved
    measured["sped_up_m"] = (moved - halfway_m) - halfway_m
    measured["contacts"] = int(data.ncon)
    measured["largest_speed_m_s"] = max(float(hypot(*data.qvel[6 * i:6 * i + 3]))
                                        for i in range(len(start)))
    return measured


def threshold_deg(scene, settings):
    """Bisects the tilt beyond which the tube keeps gaining speed.

    A steady creep, which soft friction allows, is no slide: it goes as far in the second half
    of the run as in the first.
    """
    sweep = scene["sweep"]

    def moves(tilt_deg):
        return run(scene | {sweep["parameter"]: tilt_deg}, settings)["sped_up_m"] > sweep["sped_up_m"]

    low, high = sweep["from_deg"], sweep["to_deg"]
    if moves(low) or not moves(high):
        raise ValueError(f"{scene['id']}: the threshold is outside {low} to {high} degrees")
    while high - low > sweep["resolution_deg"]:
        middle = (low + high) / 2
        low, high = (low, middle) if moves(middle) else (middle, high)
    return (low + high) / 2


def measure(scene, settings):
    if "sweep" in scene:
        return {"threshold_deg": threshold_deg(scene, settings)}
    measured = run(scene, settings)
    return {e["key"]: measured[e["key"]] for e in scene["expect"]}
