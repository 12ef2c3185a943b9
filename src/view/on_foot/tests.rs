//! Somebody on foot, without a window.

use std::path::Path;

use super::*;
use crate::domain::math::rad;
use crate::domain::rig::Rig;
use crate::scenario::load;
use crate::session::walk::{Walk, gauge_at, gauge_shows_rad, tape_reading_m};
use crate::sim::line::Line;
use crate::view::scene::SceneSystems;

fn scenario(name: &str) -> crate::scenario::Scenario {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    load(&folder.join(name)).expect(name).scenario
}

/// The rig of an ordinary line.
pub fn rig() -> Rig {
    Rig::new(&scenario("first-shift.ron").line_for(1))
}

fn yard_of(name: &str) -> Yard {
    Yard::new(&Line::build(&scenario(name).line_for(1)))
}

/// Frames of a sixtieth of a second, with the same input.
fn frames(on_foot: &mut OnFoot, yard: &Yard, input: WalkInput, count: usize) -> Vec<Wish> {
    let site = Site::shown(yard);
    let mut wishes = Vec::new();
    for _ in 0..count {
        wishes.extend(on_foot.step(yard, &site, &input, 1.0 / 60.0));
    }
    wishes
}

fn press(on_foot: &mut OnFoot, yard: &Yard, pressed: Pressed) -> Vec<Wish> {
    let input = WalkInput {
        pressed,
        ..WalkInput::default()
    };
    frames(on_foot, yard, input, 1)
}

/// Somebody who stands at a place and looks at a point of the ground there.
fn standing(yard: &Yard, at: (f64, f64), towards: (f64, f64)) -> OnFoot {
    let site = Site::shown(yard);
    let place = |(x_m, z_m)| Place { x_m, z_m };
    let mut on_foot = OnFoot::at(&site, place(at), site.in_world(place(towards), 1.65));
    on_foot.cones.clone_from(&yard.spec().zone.cones);
    on_foot
}

const FORWARD: WalkInput = WalkInput {
    forward: 1.0,
    right: 0.0,
    turn_rad: 0.0,
    up_rad: 0.0,
    hurry: false,
    crouch: false,
    crank: 0.0,
    pressed: Pressed {
        closer: false,
        back: false,
        accept: false,
        report: false,
        tape: false,
        put: false,
        cone: false,
        level: false,
        string: false,
        undo: false,
    },
};

#[test]
fn forward_is_where_they_look_at_an_ordinary_pace_on_either_hand() {
    for name in ["first-shift.ron", "left-hand.ron"] {
        let yard = yard_of(name);
        let start_m = (9.0, -16.0);
        let mut on_foot = standing(&yard, start_m, (9.0, 0.0));
        let before = on_foot.place();
        frames(&mut on_foot, &yard, FORWARD, 120);
        let after = on_foot.place();
        let gone_m = after.z_m - before.z_m;
        assert!((2.6..3.0).contains(&gone_m), "{name}: {gone_m} m in 2 s");
        assert!((after.x_m - before.x_m).abs() < 1e-3, "{name}");
        let right = WalkInput {
            right: 1.0,
            ..WalkInput::default()
        };
        frames(&mut on_foot, &yard, right, 60);
        // Whoever looks along the line has their right hand on the rack's side of a right-handed one.
        let to_the_rack = on_foot.place().x_m < after.x_m;
        assert_eq!(to_the_rack, name == "first-shift.ron", "{name}");
    }
}

#[test]
fn eyes_are_at_their_height_over_ground_that_falls_and_come_down_when_they_crouch() {
    let mut spec = scenario("first-shift.ron").line_for(1);
    spec.ground.cross_fall_rad = rad(2.0);
    spec.ground.along_fall_rad = rad(-1.0);
    let yard = Yard::new(&Line::build(&spec));
    let site = Site::shown(&yard);
    let mut on_foot = standing(&yard, (9.0, -16.0), (30.0, 20.0));
    for _ in 0..20 {
        frames(&mut on_foot, &yard, FORWARD, 15);
        let over_m = f64::from(on_foot.eye.y) - site.ground_m(on_foot.place());
        assert!((over_m - 1.65).abs() < 0.03, "{over_m} m");
    }
    let crouch = WalkInput {
        crouch: true,
        ..WalkInput::default()
    };
    frames(&mut on_foot, &yard, crouch, 60);
    let over_m = f64::from(on_foot.eye.y) - site.ground_m(on_foot.place());
    assert!((over_m - 0.95).abs() < 0.01, "{over_m} m");
}

#[test]
fn the_same_way_at_any_rate_of_frames_and_a_long_one_goes_through_nothing() {
    let yard = yard_of("first-shift.ron");
    let site = Site::shown(&yard);
    let mut ends = Vec::new();
    for rate in [20, 60, 240] {
        let mut on_foot = standing(&yard, (9.0, -16.0), (-20.0, 3.0));
        for _ in 0..4 * rate {
            on_foot.step(&yard, &site, &FORWARD, 1.0 / rate as f32);
            assert!(site.is_free(on_foot.place()));
        }
        ends.push(on_foot.place());
    }
    for end in &ends[1..] {
        let apart_m = (end.x_m - ends[0].x_m).hypot(end.z_m - ends[0].z_m);
        assert!(apart_m < 0.15, "{ends:?}");
    }
    let mut on_foot = standing(&yard, (9.0, 0.0), (-20.0, 0.0));
    let before = on_foot.place();
    on_foot.step(&yard, &site, &FORWARD, 1.0e6);
    assert!(before.x_m - on_foot.place().x_m < 1.0);
    assert!(site.is_free(on_foot.place()));
}

#[test]
fn pipe_on_the_rack_is_in_the_way() {
    let yard = yard_of("loaded-row.ron");
    let rig = yard.rig();
    let free = Site::of(rig);
    let shown = Site::shown(&yard);
    let between = Place {
        x_m: -rig.toe_m - 0.5 * rig.spec().rack.length_m,
        z_m: 0.0,
    };
    assert!(free.is_free(between));
    let lies = yard.shown.sticks.iter().filter(|stick| stick.present);
    for stick in lies {
        let under = shown.place_of(stick.placed.at);
        assert!(!shown.is_free(under), "{under:?}");
    }
}

/// Before the near rail's inclinometer, square on, so far out.
fn at_the_gauge(yard: &Yard, uphill_m: f64, out_m: f64) -> OnFoot {
    let [x_m, y_m, z_m] = gauge_at(yard.rig(), End::Near);
    let site = Site::shown(yard);
    let place = Place {
        x_m: x_m - uphill_m,
        z_m: z_m + out_m,
    };
    let at = Vec3::new((site.mirror() * x_m) as f32, y_m as f32, z_m as f32);
    OnFoot::at(&site, place, at)
}

#[test]
fn a_gauge_is_focused_looked_at_closely_and_read_with_the_parallax_of_where_one_stands() {
    for name in ["as-found-steep.ron", "left-hand.ron"] {
        let scenario = scenario(name);
        let yard = yard_of(name);
        let site = Site::shown(&yard);
        let spec = scenario.line_for(1);
        let walk = Walk::new(&scenario, &spec, true);
        let shows_rad = gauge_shows_rad(yard.rig(), End::Near);
        let mut read = Vec::new();
        for uphill_m in [-0.6, 0.0, 0.6] {
            let mut on_foot = at_the_gauge(&yard, uphill_m, 1.0);
            frames(&mut on_foot, &yard, WalkInput::default(), 1);
            let focus = on_foot.focus.clone().expect("something");
            assert_eq!(focus.thing, Thing::Gauge(End::Near), "{name}");
            assert!(focus.distance_m < 2.0);
            let closer = Pressed {
                closer: true,
                ..Pressed::default()
            };
            let wishes = press(&mut on_foot, &yard, closer);
            assert_eq!(wishes, [Wish::Look(Thing::Gauge(End::Near))]);
            frames(&mut on_foot, &yard, WalkInput::default(), 60);
            read.push(
                walk.bubble_rad(End::Near, on_foot.reads_from(&site))
                    .expect("legible"),
            );
            // Leaning over to where the bubble is square to the eye.
            let nearer = |on_foot: &OnFoot| {
                let seen = walk.bubble_rad(End::Near, on_foot.reads_from(&site));
                (seen.expect("legible") - shows_rad).abs()
            };
            for _ in 0..400 {
                let mut best = on_foot.clone();
                for right in [-1.0, 1.0] {
                    let mut tried = on_foot.clone();
                    let lean = WalkInput {
                        right,
                        ..WalkInput::default()
                    };
                    frames(&mut tried, &yard, lean, 1);
                    if nearer(&tried) < nearer(&best) {
                        best = tried;
                    }
                }
                on_foot = best;
            }
            assert!(nearer(&on_foot) < rad(0.12), "{name}: {}", nearer(&on_foot));
        }
        // From downhill it seems to stand higher, from uphill lower.
        assert!(
            read[0] > read[1] + rad(0.3) && read[1] > read[2] + rad(0.3),
            "{read:?}"
        );
    }
}

#[test]
fn looked_at_closely_nobody_walks_and_accepting_is_about_that() {
    let yard = yard_of("as-found-steep.ron");
    let mut on_foot = at_the_gauge(&yard, 0.0, 1.0);
    let accept = Pressed {
        accept: true,
        ..Pressed::default()
    };
    assert_eq!(
        press(&mut on_foot, &yard, accept),
        [],
        "nothing is looked at"
    );
    let closer = Pressed {
        closer: true,
        ..Pressed::default()
    };
    press(&mut on_foot, &yard, closer);
    let before = on_foot.place();
    frames(&mut on_foot, &yard, FORWARD, 60);
    assert_eq!(on_foot.place(), before);
    let away_m = on_foot.camera().translation.distance(on_foot.eye);
    assert!(away_m > 0.2, "the camera has gone there: {away_m} m");
    let accepted = Wish::Do(Act::Accept(Thing::Gauge(End::Near)));
    assert_eq!(press(&mut on_foot, &yard, accept), [accepted]);
    let back = Pressed {
        back: true,
        ..Pressed::default()
    };
    press(&mut on_foot, &yard, back);
    assert_eq!(on_foot.close_to(), None);
    frames(&mut on_foot, &yard, WalkInput::default(), 60);
    assert!(on_foot.camera().translation.distance(on_foot.eye) < 1e-3);
    frames(&mut on_foot, &yard, FORWARD, 30);
    assert_ne!(on_foot.place(), before);
}

#[test]
fn the_crank_turns_beside_its_jack_only() {
    let yard = yard_of("as-found-steep.ron");
    let rig = yard.rig();
    let x_m = crate::domain::plan::high_end_x_m(rig) - 0.7;
    let crank = WalkInput {
        crank: -1.0,
        ..WalkInput::default()
    };
    for rail in End::BOTH {
        let mut on_foot = standing(&yard, (x_m, rig.rail_z_m(rail)), (0.0, 0.0));
        let wishes = frames(&mut on_foot, &yard, crank, 60);
        let turned: f64 = wishes
            .iter()
            .map(|wish| match wish {
                Wish::Crank { rail: at, turns } if *at == rail => *turns,
                other => panic!("{other:?}"),
            })
            .sum();
        assert!((turned + 1.0).abs() < 0.05, "{turned} turns in a second");
    }
    let mut on_foot = standing(&yard, (9.0, -16.0), (0.0, 0.0));
    assert_eq!(frames(&mut on_foot, &yard, crank, 60), []);
}

#[test]
fn the_tape_reads_while_one_walks_and_what_it_measures_to_is_put_there() {
    let yard = yard_of("first-shift.ron");
    let rig = yard.rig();
    let far_z_m = rig.cradle_z_m(End::Far);
    let tape = Pressed {
        tape: true,
        ..Pressed::default()
    };
    let put = Pressed {
        put: true,
        ..Pressed::default()
    };
    let mut on_foot = standing(&yard, (1.4, far_z_m), (0.0, far_z_m));
    press(&mut on_foot, &yard, tape);
    assert_eq!(
        on_foot.tape.expect("out").hooked_to,
        HookedTo::Cradle(End::Far)
    );
    // To the near cradle it reads the spacing to a centimetre.
    let held = on_foot.tape;
    let near_z_m = rig.cradle_z_m(End::Near);
    let mut on_foot = standing(&yard, (1.4, near_z_m), (0.0, near_z_m));
    on_foot.tape = held;
    frames(&mut on_foot, &yard, WalkInput::default(), 1);
    let read_m = on_foot.tape.expect("out").reading_m();
    assert!(
        (read_m - rig.spec().cradles.spacing_m).abs() <= 0.005 + 1e-9,
        "{read_m}"
    );
    // A metre on it is the place for a cradle, as far as the eye can tell.
    let mut on_foot = standing(&yard, (1.4, near_z_m + 1.0), (0.0, near_z_m + 1.0));
    on_foot.tape = held;
    let wishes = press(&mut on_foot, &yard, put);
    match wishes[..] {
        [Wish::Do(Act::Cradles { spacing_m })] => {
            assert!((spacing_m - (near_z_m + 1.0 - far_z_m)).abs() < 1e-6);
            let tape = on_foot.tape.expect("out");
            assert_eq!(tape.reading_m(), tape_reading_m(tape.from, tape.to));
            assert!((tape.reading_m() - spacing_m).abs() <= 0.005 + 1e-9);
        }
        ref other => panic!("{other:?}"),
    }
    press(&mut on_foot, &yard, tape);
    assert_eq!(on_foot.tape, None);
    // On open ground it is hooked on to nothing of the line, and nothing is put by it.
    let mut on_foot = standing(&yard, (9.0, -16.0), (9.0, 0.0));
    press(&mut on_foot, &yard, tape);
    assert_eq!(on_foot.tape.expect("out").hooked_to, HookedTo::Mark);
    frames(&mut on_foot, &yard, FORWARD, 120);
    let read_m = on_foot.tape.expect("out").reading_m();
    assert!((2.6..3.0).contains(&read_m), "{read_m} m");
    assert_eq!(press(&mut on_foot, &yard, put), []);
}

#[test]
fn cones_are_put_before_the_feet_and_taken_up_where_one_looks() {
    let yard = yard_of("first-shift.ron");
    let site = Site::shown(&yard);
    let cone = Pressed {
        cone: true,
        ..Pressed::default()
    };
    let mut on_foot = standing(&yard, (9.0, -16.0), (9.0, 0.0));
    on_foot.cones.clear();
    let wishes = press(&mut on_foot, &yard, cone);
    let put = match wishes[..] {
        [Wish::Do(Act::PutCone(place))] => place,
        ref other => panic!("{other:?}"),
    };
    assert!(
        (put.x_m - 9.0).abs() < 1e-3 && (put.z_m + 15.3).abs() < 1e-3,
        "{put:?}"
    );
    on_foot.cones = vec![
        Place {
            x_m: 0.0,
            z_m: 50.0,
        },
        put,
    ];
    let down = site.in_world(put, 0.45) - on_foot.eye;
    on_foot.pitch_rad = f32::atan2(down.y, down.xz().length());
    assert_eq!(
        press(&mut on_foot, &yard, cone),
        [Wish::Do(Act::TakeCone(1))]
    );
}

#[test]
fn a_list_beside_the_scene_leads_to_every_thing() {
    let yard = yard_of("as-found-steep.ron");
    let site = Site::shown(&yard);
    for thing in Thing::all(yard.spec()) {
        let mut on_foot = OnFoot::before(&yard);
        assert!(on_foot.go_and_look(&yard, &site, thing), "{thing:?}");
        assert_eq!(on_foot.close_to(), Some(thing));
        assert!(site.is_free(on_foot.place()), "{thing:?}");
        frames(&mut on_foot, &yard, WalkInput::default(), 90);
        let focus = on_foot.focus.clone().expect("it");
        assert_eq!(focus.thing, thing);
        assert!(on_foot.camera().translation.is_finite());
    }
}

/// What was wished for in an app.
#[derive(Resource, Default)]
struct Wished(Vec<Wish>);

fn walk(
    time: Res<Time>,
    yard: Res<Yard>,
    input: Res<WalkInput>,
    site: Res<Site>,
    mut on_foot: ResMut<OnFoot>,
    mut wished: ResMut<Wished>,
) {
    let wishes = on_foot.step(&yard, &site, &input, time.delta_secs());
    wished.0.extend(wishes);
}

/// The plugin in an app without a window: keys walk, and what is held is drawn.
#[test]
fn keys_walk_and_what_is_held_and_put_down_is_drawn() {
    use crate::view::scene::cones::Cone;
    use bevy::input::mouse::AccumulatedMouseMotion;
    use bevy::time::TimeUpdateStrategy;

    let yard = yard_of("first-shift.ron");
    let mut on_foot = standing(&yard, (9.0, -16.0), (9.0, 0.0));
    let cones = on_foot.cones.len();
    on_foot.cones.push(Place {
        x_m: 20.0,
        z_m: 0.0,
    });
    let before = on_foot.place();
    let mut app = App::new();
    app.add_plugins((MinimalPlugins, plugin))
        .add_systems(Update, walk.before(SceneSystems::Move))
        .init_resource::<Wished>()
        .insert_resource(Site::shown(&yard))
        .init_resource::<Assets<Mesh>>()
        .init_resource::<Assets<StandardMaterial>>()
        .init_resource::<ButtonInput<KeyCode>>()
        .init_resource::<ButtonInput<MouseButton>>()
        .init_resource::<AccumulatedMouseMotion>()
        .insert_resource(TimeUpdateStrategy::ManualDuration(
            std::time::Duration::from_millis(16),
        ))
        .insert_resource(crate::view::scene::people::HighVis(Handle::default()))
        .insert_resource(yard)
        .insert_resource(on_foot);
    for number in 0..cones {
        app.world_mut()
            .spawn((Cone(number), Transform::IDENTITY, Visibility::Inherited));
    }
    let press = |app: &mut App, key: KeyCode| {
        app.world_mut()
            .resource_mut::<ButtonInput<KeyCode>>()
            .press(key);
    };
    press(&mut app, KeyCode::KeyT);
    press(&mut app, KeyCode::KeyW);
    press(&mut app, KeyCode::KeyG);
    for _ in 0..60 {
        app.update();
        app.world_mut()
            .resource_mut::<ButtonInput<KeyCode>>()
            .clear();
    }
    assert_eq!(app.world().resource::<Wished>().0, [Wish::Do(Act::String)]);
    let on_foot = app.world().resource::<OnFoot>();
    assert!(on_foot.place().z_m - before.z_m > 1.0);
    assert!(on_foot.tape.is_some_and(|tape| tape.reading_m() > 0.5));
    let mut drawn = app.world_mut().query::<&Cone>();
    assert_eq!(drawn.iter(app.world()).count(), cones + 1);
    let mut bars = app.world_mut().query_filtered::<&Transform, With<Mesh3d>>();
    // The tape and the new cone.
    assert_eq!(bars.iter(app.world()).count(), 2);
    let longest_m = bars
        .iter(app.world())
        .map(|bar| bar.scale.z)
        .fold(0.0, f32::max);
    assert!(longest_m > 1.0, "{longest_m} m of tape");
    app.world_mut().resource_mut::<OnFoot>().string = true;
    app.update();
    assert_eq!(bars.iter(app.world()).count(), 3);
}

#[test]
fn turning_by_keys_alone_comes_round_and_never_over() {
    let yard = yard_of("first-shift.ron");
    let mut on_foot = standing(&yard, (9.0, -16.0), (9.0, 0.0));
    let before = on_foot.yaw_rad;
    let turn = WalkInput {
        turn_rad: std::f32::consts::TAU / 60.0,
        up_rad: 0.2,
        ..WalkInput::default()
    };
    frames(&mut on_foot, &yard, turn, 60);
    assert!((on_foot.yaw_rad - before).abs() < 1e-3);
    assert!(on_foot.pitch_rad < std::f32::consts::FRAC_PI_2);
    assert!(on_foot.camera().up().y > 0.0);
}
