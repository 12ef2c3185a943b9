#!/usr/bin/env python3
"""Writes scenes.json and bench_scenes.json, the engine-neutral descriptions.

    python3 make_scenes.py           write both files
    python3 make_scenes.py --check   exit 1 if a committed file differs

Only the standard library is used. The schema is described in README.md.
"""

import json
import sys
from math import acos, atan, cos, degrees, radians, sin, sqrt, tan
from pathlib import Path

HERE = Path(__file__).resolve().parent
GRAVITY_M_S2 = 9.81
TIME_STEP_S = 1 / 240
RAIL_WIDTH_M = 0.15
RAIL_THICKNESS_M = 0.20

OPENSTAX_ROLLING = "OpenStax, University Physics Volume 1, section 11.1, rolling without slipping"
OPENSTAX_SLIPPING = "OpenStax, University Physics Volume 1, section 11.1, rolling with slipping"
STATICS = "Meriam & Kraige, Engineering Mechanics: Statics, chapter 3, equilibrium"
WEDGE = ("Beer & Johnston, Vector Mechanics for Engineers: Statics, chapter 8, dry friction; "
         "the wedge factor 1/sin is that of V-belts in the same chapter")

# k = axial inertia / (mass radius²), for a tube ½ (1 + (r/R)²): Beer & Johnston, inside cover.
PIPE_36IN_DR17 = {"name": "36 in DR 17", "mass_kg": 146.7 * 12.19, "radius_m": 0.4572,
                  "length_m": 12.19, "k": 0.8831}
PIPE_P630 = {"name": "630 mm SDR 17", "mass_kg": 847.44, "radius_m": 0.315,
             "length_m": 12.0, "k": 0.8872}


def number(value):
    """Twelve significant digits: plenty for physics, calm in a diff."""
    rounded = float(f"{value:.12g}")
    return 0.0 if rounded == 0 else rounded


def vector(*values):
    return [number(v) for v in values]


def tube(pipe, position_m, friction):
    mass, radius, length, k = (pipe[n] for n in ("mass_kg", "radius_m", "length_m", "k"))
    return {
        "name": pipe["name"],
        "mass_kg": number(mass),
        "radius_m": radius,
        "length_m": length,
        "inertia_axial_kg_m2": number(k * mass * radius**2),
        # m [3 (R² + r²) + L²] / 12 with R² + r² = 2 k R²: Beer & Johnston, inside cover.
        "inertia_cross_kg_m2": number(mass * (6 * k * radius**2 + length**2) / 12),
        "position_m": vector(*position_m),
        "velocity_m_s": [0.0, 0.0, 0.0],
        "angular_velocity_rad_s": [0.0, 0.0, 0.0],
        "friction": friction,
    }


def box(name, half_extents_m, surface_point_m, slope_deg, friction):
    """A box whose top surface, at local x = 0, passes through surface_point_m."""
    t = radians(slope_deg)
    x, y, z = surface_point_m
    half_y = half_extents_m[1]
    return {
        "name": name,
        "half_extents_m": vector(*half_extents_m),
        "position_m": vector(x - half_y * sin(t), y - half_y * cos(t), z),
        "slope_deg": slope_deg,
        "friction": friction,
    }


def on_slope(slope_deg, along_m, above_m=0.0):
    t = radians(slope_deg)
    return (along_m * cos(t) + above_m * sin(t), -along_m * sin(t) + above_m * cos(t))


def rails(slope_deg, spacing_m, friction, from_m, to_m):
    half = ((to_m - from_m) / 2, RAIL_THICKNESS_M / 2, RAIL_WIDTH_M / 2)
    x, y = on_slope(slope_deg, (from_m + to_m) / 2)
    return [box(name, half, (x, y, z), slope_deg, friction)
            for name, z in (("rail_low_z", -spacing_m / 2), ("rail_high_z", spacing_m / 2))]


def v_cradles(included_deg, spacing_m, friction, face_m=0.6):
    """Two V's with their apexes on the z axis, two boxes each."""
    face_slope = 90 - included_deg / 2
    boxes = []
    for stand, z in (("v_low_z", -spacing_m / 2), ("v_high_z", spacing_m / 2)):
        for side, sign in (("minus_x", -1), ("plus_x", 1)):
            middle = (sign * face_m / 2 * cos(radians(face_slope)),
                      face_m / 2 * sin(radians(face_slope)), z)
            # The face at +x rises towards +x, which is a negative slope.
            boxes.append(box(f"{stand}_{side}", (face_m / 2, 0.05, RAIL_WIDTH_M / 2),
                             middle, -sign * face_slope, friction))
    return boxes


def scene(id_, kind, note, tubes, boxes, duration_s, measure_from_s, expect,
          side_deg=0.0, lengthwise_deg=0.0, sweep=None):
    s = {
        "id": id_, "kind": kind, "note": note,
        "gravity_m_s2": GRAVITY_M_S2,
        "gravity_tilt_side_deg": side_deg,
        "gravity_tilt_lengthwise_deg": lengthwise_deg,
        "time_step_s": TIME_STEP_S,
        "duration_s": duration_s,
        "measure_from_s": measure_from_s,
        "tubes": tubes, "boxes": boxes,
    }
    if sweep:
        s["sweep"] = sweep
    s["expect"] = expect
    return s


def expectation(quantity, value, tolerance_percent, formula, source, key=None, boxes=None):
    e = {"key": key or quantity, "quantity": quantity}
    if boxes:
        e["boxes"] = boxes
    return e | {"value": number(value), "tolerance_percent": tolerance_percent,
                "formula": formula, "source": source}


def slope_label(slope_deg):
    return f"{slope_deg:g}deg"


def rolling(id_, pipe, slope_deg):
    a = GRAVITY_M_S2 * sin(radians(slope_deg)) / (1 + pipe["k"])
    friction = 0.6
    return scene(
        id_, "rolling", f"{pipe['name']} rolls from rest down two rails at {slope_deg:g}°.",
        [tube(pipe, (*on_slope(slope_deg, 0, pipe["radius_m"]), 0), friction)],
        rails(slope_deg, pipe["length_m"] / 1.8, friction, -2, 10), 2.0, 0.1,
        [expectation("acceleration_m_s2", a, 0.1, "g sin θ / (1 + k)", OPENSTAX_ROLLING),
         expectation("spin_acceleration_m_s2", a, 0.1, "a, the tube rolls without slip",
                     OPENSTAX_ROLLING)])


def sliding(id_, pipe, slope_deg, friction):
    t, k = radians(slope_deg), pipe["k"]
    assert tan(t) > friction * (1 + k) / k
    return scene(
        id_, "sliding",
        f"{pipe['name']} slides and spins from rest down two slippery rails at {slope_deg:g}°, "
        f"beyond the no-slip limit atan(μ (1 + k) / k) = {degrees(atan(friction * (1 + k) / k)):.3f}°.",
        [tube(pipe, (*on_slope(slope_deg, 0, pipe["radius_m"]), 0), friction)],
        rails(slope_deg, pipe["length_m"] / 1.8, friction, -2, 10), 2.0, 0.1,
        [expectation("acceleration_m_s2", GRAVITY_M_S2 * (sin(t) - friction * cos(t)), 2.0,
                     "g (sin θ - μ cos θ)", OPENSTAX_SLIPPING),
         expectation("spin_acceleration_m_s2", friction * GRAVITY_M_S2 * cos(t) / k, 2.0,
                     "μ g cos θ / k", OPENSTAX_SLIPPING)])


V_INCLUDED_DEG = 120.0
V_FACE_DEG = 90 - V_INCLUDED_DEG / 2


def tube_in_v(pipe, friction):
    return [tube(pipe, (0, pipe["radius_m"] / cos(radians(V_FACE_DEG)), 0), friction)]


def v_forces(id_, pipe, side_deg):
    weight, b, p = pipe["mass_kg"] * GRAVITY_M_S2, radians(V_FACE_DEG), radians(side_deg)
    friction = 0.0
    return scene(
        id_, "v_cradle_forces",
        f"{pipe['name']} rests in two 120° V's. No friction, which would leave the face forces "
        "undetermined. The sideways tilt of the V's is done by tilting gravity, which is "
        "equivalent: tube and V's keep their places relative to one another.",
        tube_in_v(pipe, friction),
        v_cradles(V_INCLUDED_DEG, pipe["length_m"] / 1.8, friction), 2.0, 1.0,
        [expectation("normal_force_n", weight * sin(b + p) / sin(2 * b), 1.0,
                     "W sin(β + φ) / sin 2β, β the face slope, φ the side tilt", STATICS,
                     "normal_force_faces_plus_x_n", ["v_low_z_plus_x", "v_high_z_plus_x"]),
         expectation("normal_force_n", weight * sin(b - p) / sin(2 * b), 1.0,
                     "W sin(β - φ) / sin 2β", STATICS,
                     "normal_force_faces_minus_x_n", ["v_low_z_minus_x", "v_high_z_minus_x"])],
        side_deg=side_deg)


def v_roll_out(id_, pipe):
    friction = 0.2
    return scene(
        id_, "v_cradle_roll_out",
        f"{pipe['name']} in two 120° V's: the side tilt at which it rolls out over the lower "
        "face. Gravity is tilted instead of the V's, which is equivalent.",
        tube_in_v(pipe, friction),
        v_cradles(V_INCLUDED_DEG, pipe["length_m"] / 1.8, friction), 6.0, 0.0,
        [expectation("threshold_deg", V_FACE_DEG, 1.0, "φ = β, the upper face unloads", STATICS)],
        sweep={"parameter": "gravity_tilt_side_deg", "from_deg": 29.0, "to_deg": 31.0,
               "resolution_deg": 0.01, "sped_up_m": 0.02})


def lengthwise_slide(id_, pipe):
    friction, half = 0.2, radians(V_INCLUDED_DEG / 2)
    return scene(
        id_, "lengthwise_slide",
        f"{pipe['name']} in two 120° V's at different heights: the lengthwise tilt at which it "
        "slides. Gravity is tilted instead of the line through the two V's, which is equivalent "
        "when both V's lean with the tube.",
        tube_in_v(pipe, friction),
        v_cradles(V_INCLUDED_DEG, pipe["length_m"] / 1.8, friction), 6.0, 0.0,
        [expectation("threshold_deg", degrees(atan(friction / sin(half))), 1.5,
                     "tan δ = μ / sin γ, γ half the included angle", WEDGE)],
        sweep={"parameter": "gravity_tilt_lengthwise_deg", "from_deg": 12.0, "to_deg": 14.0,
               "resolution_deg": 0.01, "sped_up_m": 0.02})


def two_supports(id_, pipe, spacing_m, offset_m):
    weight, friction = pipe["mass_kg"] * GRAVITY_M_S2, 0.6
    return scene(
        id_, "two_supports",
        f"{pipe['name']} rests on two level rails {spacing_m:g} m apart, its centre of gravity "
        f"{offset_m:g} m off the middle towards +z.",
        [tube(pipe, (0, pipe["radius_m"], offset_m), friction)],
        rails(0.0, spacing_m, friction, -2, 2), 2.0, 1.0,
        [expectation("normal_force_n", weight * (0.5 + offset_m / spacing_m), 1.0,
                     "W (1/2 + x/s)", STATICS, "normal_force_rail_high_z_n", ["rail_high_z"]),
         expectation("normal_force_n", weight * (0.5 - offset_m / spacing_m), 1.0,
                     "W (1/2 - x/s)", STATICS, "normal_force_rail_low_z_n", ["rail_low_z"])])


def check_scenes():
    big, p630 = PIPE_36IN_DR17, PIPE_P630
    return ([rolling(f"rolling_36in_dr17_{slope_label(s)}", big, s) for s in (1.0, 3.0, 5.0, 8.0, 12.0)]
            + [rolling("rolling_p630_3deg", p630, 3.0)]
            + [sliding("sliding_36in_dr17_3deg", big, 3.0, 0.02),
               sliding("sliding_36in_dr17_8deg", big, 8.0, 0.05),
               sliding("sliding_p630_3deg", p630, 3.0, 0.02)]
            + [v_forces("v_cradle_p630_level", p630, 0.0),
               v_forces("v_cradle_p630_side_10deg", p630, 10.0),
               v_roll_out("v_roll_out_36in_dr17", big),
               v_roll_out("v_roll_out_p630", p630)]
            + [two_supports("two_supports_p630_0.25m", p630, 6.667, 0.25),
               two_supports("two_supports_36in_dr17_1m", big, 6.772, 1.0)]
            + [lengthwise_slide("lengthwise_slide_36in_dr17", big),
               lengthwise_slide("lengthwise_slide_p630", p630)])


def bench_scene(id_, count):
    pipe, slope = PIPE_36IN_DR17, 5.0
    radius, spacing = pipe["radius_m"], pipe["length_m"] / 1.8
    weight = pipe["mass_kg"] * GRAVITY_M_S2
    rail_friction, tube_friction = 0.3, 0.25
    pin_height, pin_along, pin_width = 0.5 * radius, 0.06, 0.10
    # Touching the pin's upper edge: half a chord away from its upstream face.
    reach = sqrt(radius**2 - (radius - pin_height)**2)
    beta = acos(1 - pin_height / radius)
    tubes = [tube(pipe, (*on_slope(slope, -reach - 2 * radius * i, radius), 0), tube_friction)
             for i in range(count)]
    boxes = rails(slope, spacing, rail_friction, -7, 1)
    for name, z in (("pin_low_z", -spacing / 2), ("pin_high_z", spacing / 2)):
        x, y = on_slope(slope, pin_along / 2, pin_height)
        boxes.append(box(name, (pin_along / 2, pin_height / 2, pin_width / 2), (x, y, z),
                         slope, rail_friction))
    return scene(
        id_, "bench",
        f"{count} touching {pipe['name']} stick{'s' if count > 1 else ''} at rest on two rails at "
        "5° against two gate pins half a radius high. A run has 2000 steps and every step is a full "
        "one: nothing may be put to sleep.",
        tubes, boxes, 2000 * TIME_STEP_S, 1000 * TIME_STEP_S,
        [expectation("total_force_n", count * weight, 1.0, "n W, all contact forces together carry the weight",
                     STATICS),
         {"key": "normal_force_pins_n", "quantity": "normal_force_n",
          "boxes": ["pin_low_z", "pin_high_z"],
          "at_most": number(1.5 * count * weight * sin(radians(slope)) / sin(beta)),
          "formula": "1.5 n W sin θ / sin β, cos β = 1 - h/R; without friction the factor is 1, "
                     "friction shares the push in a way statics cannot tell", "source": STATICS},
         {"key": "moved_m", "quantity": "moved_m", "at_most": 0.02,
          "formula": "the row stays put: how far any tube's centre is from its start at the end",
          "source": STATICS},
         {"key": "largest_speed_m_s", "quantity": "largest_speed_m_s", "at_most": 0.05,
          "formula": "the row is at rest at the end, but for contact noise", "source": STATICS}])


def document(about, scenes):
    return {"about": about, "schema": "README.md", "up_axis": "y", "tube_axis": "z",
            "pair_friction": "the larger of the two bodies' values", "restitution": 0.0,
            "scenes": scenes}


def render(value, indent=0):
    """JSON with short lists on one line."""
    pad = " " * indent
    flat = json.dumps(value, ensure_ascii=False)
    if not isinstance(value, (dict, list)) or len(flat) + indent < 100 and not (
            isinstance(value, dict) and "id" in value):
        return flat
    if isinstance(value, dict):
        inner = [f"{pad}  {json.dumps(k)}: {render(v, indent + 2)}" for k, v in value.items()]
        return "{\n" + ",\n".join(inner) + f"\n{pad}}}"
    return "[\n" + ",\n".join(f"{pad}  {render(v, indent + 2)}" for v in value) + f"\n{pad}]"


FILES = {
    "scenes.json": lambda: document(
        "Scenes with a closed form, built by every engine that is compared.", check_scenes()),
    "bench_scenes.json": lambda: document(
        "Scenes for timing.", [bench_scene("one_stick", 1), bench_scene("six_sticks", 6)]),
}


def main():
    stale = 0
    for name, make in FILES.items():
        text = render(make()) + "\n"
        path = HERE / name
        if "--check" in sys.argv[1:]:
            if not path.exists() or path.read_text(encoding="utf-8") != text:
                print(f"{name} differs from what make_scenes.py writes", file=sys.stderr)
                stale = 1
        else:
            path.write_text(text, encoding="utf-8")
    sys.exit(stale)


if __name__ == "__main__":
    main()
