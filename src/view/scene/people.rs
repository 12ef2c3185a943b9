//! The people: in high-visibility clothing, so that they are seen first, each with the shape of their
//! duty beside its colour.
//!
//! | duty | helmet | shape |
//! |---|---|---|
//! | operator | white | a pendant's strap across the chest |
//! | spotter | sand | orange jacket, a flag on a baton |
//! | loader driver | sand | ear defenders |
//! | technician | sky | an apron |
//! | rigger | slate | orange jacket, a bar in the hand, a tool belt |
//! | visitor | white | a plain vest without bands |
//!
//! Somebody who was struck stands still and grey with an edge around them, and nothing else is shown.

use bevy::asset::RenderAssetUsages;
use bevy::image::ImageSampler;
use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;
use bevy::render::render_resource::{Extent3d, Face, TextureDimension, TextureFormat};

use super::gait::{BALL, Bone, FOREARM_M, Posture, SHIN_M, STRIDE_M, THIGH_M, UPPER_ARM_M};
use super::solid::Solid;
use super::{Built, SceneSystems, due};
use crate::domain::spec::Duty;
use crate::sim::line::State;
use crate::view::camera::EYES_M;
use crate::view::quality::Quality;
use crate::view::shown::PersonShown;
use crate::view::theme::yard as colours;
use crate::view::yard::Yard;

/// The meshes of every bone of a figure: alive, struck, and thicker by its edge.
type Bones = Vec<[Handle<Mesh>; 3]>;

/// Faster than this, pipe is looked at, m/s.
const SEEN_M_PER_S: f32 = 0.05;
/// How fast people turn, and fall into a walk or out of it, 1/s.
const TURNING_PER_S: f32 = 7.0;
const GAIT_PER_S: f32 = 5.0;
/// A step of time beyond this is a jump, s, and a step of way, m.
const JUMP_S: f64 = 0.5;
const JUMP_M: f32 = 1.0;
/// One stroke of handiwork, s.
const STROKE_S: f64 = 1.7;
/// A camera so near to somebody's eyes sees with them, m.
const OWN_HEAD_M: f32 = 0.45;
/// Thickness of the edge around somebody who was struck, m.
const EDGE_M: f32 = 0.014;
/// How much high-visibility cloth shines by itself: it turns what the eye does not see into light.
const SHINE: f32 = 0.30;

/// The material of people and cones: their own colours, and cloth that shines.
#[derive(Resource, Clone)]
pub struct HighVis(pub Handle<StandardMaterial>);

/// The points of the material's texture for what shines and what does not.
pub const DULL: [f32; 2] = [0.125, 0.5];
pub const YELLOW: [f32; 2] = [0.375, 0.5];
pub const ORANGE: [f32; 2] = [0.625, 0.5];
pub const BAND: [f32; 2] = [0.875, 0.5];

impl FromWorld for HighVis {
    fn from_world(world: &mut World) -> Self {
        let shines = [
            Color::BLACK,
            colours::HIGH_VIS_YELLOW,
            colours::HIGH_VIS_ORANGE,
            colours::BAND,
        ];
        let data = shines.iter().flat_map(|colour| {
            let srgb = colour.to_srgba();
            [srgb.red, srgb.green, srgb.blue, 1.0].map(|share| (share * 255.0).round() as u8)
        });
        let mut image = Image::new(
            Extent3d {
                width: 4,
                height: 1,
                depth_or_array_layers: 1,
            },
            TextureDimension::D2,
            data.collect(),
            TextureFormat::Rgba8UnormSrgb,
            RenderAssetUsages::RENDER_WORLD,
        );
        image.sampler = ImageSampler::nearest();
        let image = world.resource_mut::<Assets<Image>>().add(image);
        let material = StandardMaterial {
            perceptual_roughness: 0.8,
            reflectance: 0.3,
            emissive: LinearRgba::rgb(SHINE, SHINE, SHINE),
            emissive_texture: Some(image),
            ..default()
        };
        Self(
            world
                .resource_mut::<Assets<StandardMaterial>>()
                .add(material),
        )
    }
}

pub fn plugin(app: &mut App) {
    app.init_resource::<Wardrobe>()
        .add_systems(Startup, |world: &mut World| {
            world.init_resource::<HighVis>();
        })
        .add_systems(
            Update,
            build.run_if(due(Built::People)).in_set(SceneSystems::Build),
        )
        .add_systems(Update, pose.in_set(SceneSystems::Move));
}

/// Figures by their duty and skin, kept for the lines that follow.
#[derive(Resource, Default)]
struct Wardrobe {
    made_for: Option<Quality>,
    edge: Handle<StandardMaterial>,
    figures: Vec<(Duty, usize, Bones)>,
}

impl Wardrobe {
    fn open(&mut self, quality: Quality, materials: &mut Assets<StandardMaterial>) {
        if self.made_for == Some(quality) {
            return;
        }
        *self = Self {
            made_for: Some(quality),
            edge: materials.add(StandardMaterial {
                base_color: colours::OUTLINE,
                unlit: true,
                cull_mode: Some(Face::Front),
                ..default()
            }),
            figures: Vec::new(),
        };
    }

    fn bones(&mut self, duty: Duty, skin: usize, meshes: &mut Assets<Mesh>) -> Bones {
        let known = self
            .figures
            .iter()
            .find(|(of, own, _)| (*of, *own) == (duty, skin));
        if let Some((.., bones)) = known {
            return bones.clone();
        }
        let clothes = Clothes::of(duty, skin, self.made_for.unwrap_or_default());
        let bones: Bones = Bone::ALL
            .iter()
            .map(|&bone| {
                let solid = clothes.bone(bone);
                [
                    meshes.add(solid.clone().mesh()),
                    meshes.add(solid.grey().mesh()),
                    meshes.add(solid.thickened(EDGE_M).mesh()),
                ]
            })
            .collect();
        self.figures.push((duty, skin, bones.clone()));
        bones
    }
}

/// Somebody, as they are drawn.
#[derive(Component)]
struct Figure {
    person: usize,
    duty: Duty,
    motion: Option<Motion>,
    is_down: bool,
}

/// What is carried from picture to picture.
#[derive(Clone, Copy, Debug)]
struct Motion {
    time_s: f64,
    feet: Vec3,
    facing_rad: f32,
    /// Strides walked.
    strides: f32,
    /// 0 standing, 1 walking.
    gait: f32,
}

/// One bone of a figure.
#[derive(Component)]
struct Limb {
    bone: usize,
    lively: Handle<Mesh>,
    still: Handle<Mesh>,
}

/// The edge of a bone.
#[derive(Component)]
struct Edge {
    bone: usize,
}

fn build(
    mut commands: Commands,
    yard: Res<Yard>,
    quality: Res<Quality>,
    high_vis: Res<HighVis>,
    mut wardrobe: ResMut<Wardrobe>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    wardrobe.open(*quality, &mut materials);
    for (person, &duty) in yard.duties().iter().enumerate() {
        let skin = person % colours::SKIN.len();
        let bones = wardrobe.bones(duty, skin, &mut meshes);
        let figure = Figure {
            person,
            duty,
            motion: None,
            is_down: false,
        };
        commands
            .spawn((
                Built::People,
                figure,
                Transform::IDENTITY,
                Visibility::default(),
            ))
            .with_children(|figure| {
                for (bone, [lively, still, thick]) in bones.into_iter().enumerate() {
                    figure.spawn((
                        Limb {
                            bone,
                            lively: lively.clone(),
                            still,
                        },
                        Mesh3d(lively),
                        MeshMaterial3d(high_vis.0.clone()),
                        Transform::IDENTITY,
                    ));
                    figure.spawn((
                        Edge { bone },
                        Mesh3d(thick),
                        MeshMaterial3d(wardrobe.edge.clone()),
                        Transform::IDENTITY,
                        Visibility::Hidden,
                        NotShadowCaster,
                        NotShadowReceiver,
                    ));
                }
            });
    }
}

#[expect(clippy::type_complexity, reason = "three disjoint queries")]
fn pose(
    yard: Res<Yard>,
    mut figures: Query<(&mut Figure, &mut Transform, &mut Visibility, &Children)>,
    mut limbs: Query<(&Limb, &mut Transform, &mut Mesh3d), (Without<Figure>, Without<Edge>)>,
    mut edges: Query<(&Edge, &mut Transform, &mut Visibility), Without<Figure>>,
    cameras: Query<
        &Transform,
        (
            With<Camera3d>,
            Without<Figure>,
            Without<Limb>,
            Without<Edge>,
        ),
    >,
) {
    for (mut figure, mut place, mut visibility, children) in &mut figures {
        let Some(person) = yard.shown.people.get(figure.person) else {
            continue;
        };
        // Nobody sees themselves through their own eyes.
        let eyes = person.feet + Vec3::Y * EYES_M;
        let is_looked_from = cameras
            .iter()
            .any(|camera| camera.translation.distance(eyes) < OWN_HEAD_M);
        let seen = if person.state == State::InCab || is_looked_from {
            Visibility::Hidden
        } else {
            Visibility::Inherited
        };
        visibility.set_if_neq(seen);
        let motion = Motion::after(figure.motion, person, yard.shown.time_s);
        figure.motion = Some(motion);
        *place = Transform::from_translation(motion.feet)
            .with_rotation(Quat::from_rotation_y(motion.facing_rad));
        let says_stop = figure.duty == Duty::Spotter && yard.shown.says_stop;
        let looks_at = moving_pipe(&yard, motion.feet);
        let posture = posture(figure.duty, person.state, &motion, says_stop, looks_at);
        let bones = posture.bones();
        let is_down = person.state == State::Down;
        let changes = figure.is_down != is_down;
        figure.is_down = is_down;
        for child in children.iter() {
            if let Ok((limb, mut transform, mut mesh)) = limbs.get_mut(child) {
                *transform = bones[limb.bone];
                if changes {
                    mesh.0 = if is_down { &limb.still } else { &limb.lively }.clone();
                }
            } else if let Ok((edge, mut transform, mut visibility)) = edges.get_mut(child) {
                *transform = bones[edge.bone];
                visibility.set_if_neq(if is_down {
                    Visibility::Inherited
                } else {
                    Visibility::Hidden
                });
            }
        }
    }
}

impl Motion {
    /// From the last picture to this one. After a jump in time or place they are just there.
    fn after(before: Option<Self>, person: &PersonShown, time_s: f64) -> Self {
        let walks = matches!(person.state, State::Walking | State::Clearing);
        let feet = person.feet;
        let begins = before.filter(|before| {
            (0.0..JUMP_S).contains(&(time_s - before.time_s)) && before.feet.distance(feet) < JUMP_M
        });
        let Some(before) = begins else {
            let (sin, cos) = person.facing_rad.sin_cos();
            return Self {
                time_s,
                feet,
                facing_rad: person.facing_rad,
                strides: feet.dot(Vec3::new(cos, 0.0, -sin)) / STRIDE_M,
                gait: f32::from(u8::from(walks)),
            };
        };
        let passed_s = (time_s - before.time_s) as f32;
        let turn = std::f32::consts::PI;
        let off = (person.facing_rad - before.facing_rad + turn).rem_euclid(2.0 * turn) - turn;
        let turned = 1.0 - (-TURNING_PER_S * passed_s).exp();
        let goal = f32::from(u8::from(walks));
        let most = GAIT_PER_S * passed_s;
        let way_m = (feet - before.feet).xz().length();
        Self {
            time_s,
            feet,
            facing_rad: before.facing_rad + off * turned,
            strides: before.strides + way_m / STRIDE_M,
            gait: before.gait + (goal - before.gait).clamp(-most, most),
        }
    }
}

fn posture(
    duty: Duty,
    state: State,
    motion: &Motion,
    says_stop: bool,
    looks_at: Option<Vec3>,
) -> Posture {
    let stroke = (std::f64::consts::TAU * motion.time_s / STROKE_S).sin() as f32;
    let still = match state {
        State::Working if duty == Duty::Rigger => Posture::bent(),
        State::Working => Posture::at_bench(stroke),
        State::Looking => Posture::watching(),
        State::Down => return Posture::STANDING,
        _ if says_stop => Posture::saying_stop(),
        _ => Posture::STANDING,
    };
    let mut posture = still.towards(&Posture::walking(motion.strides), motion.gait);
    if let Some(at) = looks_at.filter(|_| state != State::Working) {
        let way = Quat::from_rotation_y(-motion.facing_rad) * (at - motion.feet);
        posture.head_turn_rad = (-way.z).atan2(way.x).clamp(-1.1, 1.1) * (1.0 - 0.6 * motion.gait);
    }
    posture
}

/// The nearest pipe that moves, if there is any.
fn moving_pipe(yard: &Yard, from: Vec3) -> Option<Vec3> {
    let moving = yard
        .shown
        .sticks
        .iter()
        .filter(|stick| stick.present && stick.speed_m_per_s > SEEN_M_PER_S)
        .map(|stick| stick.placed.at);
    moving.min_by(|one, other| {
        one.distance_squared(from)
            .total_cmp(&other.distance_squared(from))
    })
}

/// What somebody wears, by their duty.
struct Clothes {
    duty: Duty,
    skin: Color,
    jacket: (Color, [f32; 2]),
    helmet: Color,
    trousers: Color,
    /// Reflecting bands, on trousers too.
    bands: bool,
    sides: u32,
}

impl Clothes {
    fn of(duty: Duty, skin: usize, quality: Quality) -> Self {
        let orange = (colours::HIGH_VIS_ORANGE, ORANGE);
        let yellow = (colours::HIGH_VIS_YELLOW, YELLOW);
        let (jacket, helmet) = match duty {
            Duty::Operator | Duty::Visitor => (yellow, colours::HELMET_WHITE),
            Duty::Spotter => (orange, colours::HELMET_SAND),
            Duty::LoaderDriver => (yellow, colours::HELMET_SAND),
            Duty::Technician => (yellow, colours::HELMET_SKY),
            Duty::Rigger => (orange, colours::HELMET_SLATE),
        };
        let is_visitor = duty == Duty::Visitor;
        Self {
            duty,
            skin: colours::SKIN[skin],
            jacket,
            helmet,
            trousers: if is_visitor {
                colours::DENIM
            } else {
                colours::TROUSERS
            },
            bands: !is_visitor,
            sides: if quality == Quality::Low { 8 } else { 14 },
        }
    }

    fn bone(&self, bone: Bone) -> Solid {
        let mut solid = Solid::new();
        solid.dab(DULL);
        match bone {
            Bone::Hips => self.hips(&mut solid),
            Bone::Torso => self.torso(&mut solid),
            Bone::Head => self.head(&mut solid),
            Bone::UpperArm(_) => self.sleeve(&mut solid, (0.062, 0.050), UPPER_ARM_M, Some(0.66)),
            Bone::Forearm(side) => self.forearm(&mut solid, side),
            Bone::Thigh(_) => {
                solid.paint(self.trousers);
                let ends = [(0.05, 0.088), (-0.10, 0.090), (-THIGH_M - 0.02, 0.062)];
                solid.loft(&ends.map(|(y, r)| (y, Vec2::new(r, 0.95 * r))), self.sides);
                if self.duty == Duty::Technician {
                    solid.paint(colours::APRON);
                    solid.slab(Vec3::new(0.085, -0.13, 0.0), Vec3::new(0.012, 0.20, 0.085));
                }
            }
            Bone::Shin(_) => {
                solid.paint(self.trousers);
                let ends = [(0.03, 0.064), (-0.14, 0.066), (-SHIN_M + 0.04, 0.056)];
                solid.loft(&ends.map(|(y, r)| (y, Vec2::splat(r))), self.sides);
                if self.bands {
                    solid.paint(colours::BAND).dab(BAND);
                    let band = [(-0.15, 0.069), (-0.205, 0.067)];
                    solid.loft(&band.map(|(y, r)| (y, Vec2::splat(r))), self.sides);
                }
            }
            Bone::Foot(_) => {
                solid.paint(colours::BOOTS);
                let top = [
                    (0.12, Vec2::new(0.06, 0.055)),
                    (-0.02, Vec2::new(0.062, 0.052)),
                ];
                solid.loft(&top, self.sides);
                let ankle_to_sole = BALL.y;
                solid.tapered(
                    Vec3::new(0.065, 0.5 * (ankle_to_sole - 0.0) + 0.005, 0.0),
                    Vec3::new(0.135, -0.5 * ankle_to_sole + 0.0, 0.052),
                    Vec2::new(0.72, 0.8),
                );
            }
        }
        solid
    }

    fn hips(&self, solid: &mut Solid) {
        solid.paint(self.trousers);
        let rings = [
            (0.10, Vec2::new(0.105, 0.150)),
            (0.0, Vec2::new(0.115, 0.165)),
            (-0.09, Vec2::new(0.105, 0.155)),
            (-0.13, Vec2::new(0.06, 0.09)),
        ];
        solid.loft(&rings, self.sides);
        if matches!(self.duty, Duty::Rigger | Duty::Technician) {
            solid.paint(colours::APRON);
            let belt = [
                (0.10, Vec2::new(0.125, 0.172)),
                (0.05, Vec2::new(0.128, 0.176)),
            ];
            solid.loft(&belt, self.sides);
            for z in [-0.19, 0.19] {
                solid.slab(Vec3::new(-0.01, 0.02, z), Vec3::new(0.05, 0.08, 0.03));
            }
        }
        if self.duty == Duty::Technician {
            solid.slab(Vec3::new(0.122, -0.04, 0.0), Vec3::new(0.012, 0.13, 0.15));
        }
    }

    fn torso(&self, solid: &mut Solid) {
        let (cloth, shine) = self.jacket;
        // Half depth and half width over the height.
        let girth = |y: f32| {
            let t = (y / 0.48).clamp(0.0, 1.0);
            Vec2::new(0.118 + 0.022 * (3.0 * t).sin(), 0.158 + 0.042 * t)
        };
        let cloth_from = 0.02;
        let bands = if self.bands {
            [(0.11, 0.16), (0.26, 0.31)]
        } else {
            [(9.0, 9.0); 2]
        };
        let mut edges = [cloth_from, 0.11, 0.16, 0.26, 0.31, 0.40, 0.455];
        edges.sort_by(f32::total_cmp);
        for pair in edges.windows(2) {
            let middle = 0.5 * (pair[0] + pair[1]);
            let is_band = bands
                .iter()
                .any(|(from, to)| (*from..*to).contains(&middle));
            if is_band {
                solid.paint(colours::BAND).dab(BAND);
            } else {
                solid.paint(cloth).dab(shine);
            }
            solid.loft(
                &[(pair[1], girth(pair[1])), (pair[0], girth(pair[0]))],
                self.sides,
            );
        }
        // Shoulders and collar.
        solid.paint(cloth).dab(shine);
        let top = [
            (0.555, Vec2::new(0.055, 0.062)),
            (0.525, Vec2::new(0.075, 0.11)),
            (0.455, girth(0.455)),
        ];
        solid.loft(&top, self.sides);
        if self.bands {
            solid.paint(colours::BAND).dab(BAND);
            for z in [-0.105, 0.105] {
                for x in [-1.0, 1.0] {
                    solid.slab(
                        Vec3::new(x * 0.128, 0.36, z),
                        Vec3::new(0.010, 0.085, 0.025),
                    );
                }
            }
        }
        solid.dab(DULL);
        match self.duty {
            Duty::Operator => {
                // The pendant's strap, and the box at the waist.
                solid.paint(colours::SHIRT);
                for i in 0..6 {
                    let t = i as f32 / 5.0;
                    let at = Vec3::new(0.142, 0.45 - 0.36 * t, 0.13 - 0.24 * t);
                    solid.slab(at, Vec3::new(0.008, 0.042, 0.030));
                }
                solid.slab(Vec3::new(0.175, 0.06, -0.10), Vec3::new(0.045, 0.06, 0.085));
            }
            Duty::Technician => {
                solid.paint(colours::APRON);
                solid.slab(Vec3::new(0.148, 0.18, 0.0), Vec3::new(0.010, 0.18, 0.13));
            }
            Duty::Visitor => {}
            _ => {
                // A radio on the chest.
                solid.paint(colours::SHIRT);
                solid.slab(
                    Vec3::new(0.150, 0.36, -0.05),
                    Vec3::new(0.018, 0.045, 0.028),
                );
                solid.bar(
                    (Vec3::new(0.150, 0.40, -0.07), 0.005),
                    (Vec3::new(0.150, 0.50, -0.07), 0.004),
                    5,
                );
            }
        }
    }

    fn head(&self, solid: &mut Solid) {
        let sides = self.sides;
        solid.paint(self.skin);
        solid.bar(
            (Vec3::new(-0.01, -0.03, 0.0), 0.055),
            (Vec3::new(0.0, 0.07, 0.0), 0.052),
            sides,
        );
        solid.ball(
            Vec3::new(0.015, 0.13, 0.0),
            Vec3::new(0.095, 0.125, 0.078),
            sides,
            -1.0,
        );
        solid.ball(
            Vec3::new(0.112, 0.115, 0.0),
            Vec3::new(0.022, 0.026, 0.016),
            6,
            -1.0,
        );
        // Eyes are a dark line of glasses.
        solid.paint(colours::SHIRT);
        solid.slab(Vec3::new(0.092, 0.150, 0.0), Vec3::new(0.018, 0.014, 0.066));
        solid.paint(self.helmet);
        let crown = Vec3::new(0.0, 0.185, 0.0);
        solid.ball(crown, Vec3::new(0.128, 0.118, 0.108), sides, 0.0);
        solid.bar(
            (crown - Vec3::Y * 0.012, 0.118),
            (crown + Vec3::Y * 0.010, 0.118),
            sides,
        );
        solid.tapered(
            crown + Vec3::new(0.135, -0.006, 0.0),
            Vec3::new(0.055, 0.008, 0.085),
            Vec2::new(0.9, 0.8),
        );
        solid.slab(
            crown + Vec3::new(-0.01, 0.112, 0.0),
            Vec3::new(0.095, 0.014, 0.012),
        );
        if self.duty == Duty::LoaderDriver {
            solid.paint(colours::RUBBER);
            for z in [-1.0, 1.0] {
                let ear = Vec3::new(0.0, 0.125, z * 0.085);
                solid.bar((ear, 0.046), (ear + Vec3::Z * z * 0.035, 0.040), sides);
            }
        }
    }

    /// A sleeve with a band at a share of its length.
    fn sleeve(&self, solid: &mut Solid, (top, end): (f32, f32), length: f32, band: Option<f32>) {
        let (cloth, shine) = self.jacket;
        let is_vest = self.duty == Duty::Visitor;
        if is_vest {
            solid.paint(colours::SHIRT).dab(DULL);
        } else {
            solid.paint(cloth).dab(shine);
        }
        let rings = [
            (0.045, Vec2::splat(0.5 * top)),
            (0.02, Vec2::splat(top)),
            (-length - 0.012, Vec2::splat(end)),
        ];
        solid.loft(&rings, self.sides);
        if let Some(share) = band.filter(|_| self.bands) {
            solid.paint(colours::BAND).dab(BAND);
            let at = |t: f32| (-length * t, Vec2::splat(top + (end - top) * t + 0.004));
            solid.loft(&[at(share - 0.09), at(share + 0.09)], self.sides);
        }
        solid.dab(DULL);
    }

    fn forearm(&self, solid: &mut Solid, side: super::gait::Side) {
        self.sleeve(solid, (0.050, 0.040), FOREARM_M - 0.02, None);
        let bare = self.duty == Duty::Visitor;
        solid.paint(if bare { self.skin } else { colours::GLOVES });
        let palm = Vec3::new(0.008, -FOREARM_M - 0.055, 0.0);
        solid.ball(palm, Vec3::new(0.042, 0.075, 0.030), 8, -1.0);
        if side == super::gait::Side::Left {
            return;
        }
        // What is held hangs from the palm across the forearm.
        match self.duty {
            Duty::Spotter => {
                let (low, high) = (palm + Vec3::X * 0.12, palm - Vec3::new(0.10, 0.62, 0.0));
                solid.paint(colours::TIMBER);
                solid.bar((low + Vec3::Y * 0.15, 0.014), (high, 0.012), 6);
                solid.paint(colours::HIGH_VIS_ORANGE).dab(ORANGE);
                let (a, b) = (palm - Vec3::new(0.02, 0.22, 0.0), high);
                let out = Vec3::new(-0.34, 0.10, 0.0);
                solid.face(&[a, b, b + out, a + out]);
                solid.face(&[a + out, b + out, b, a]);
                solid.dab(DULL);
            }
            Duty::Rigger => {
                solid.paint(colours::STEEL);
                solid.bar(
                    (palm - Vec3::new(0.75, 0.05, 0.0), 0.016),
                    (palm + Vec3::X * 0.75, 0.014),
                    6,
                );
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn person(feet: Vec3, state: State) -> PersonShown {
        PersonShown {
            duty: Duty::Rigger,
            feet,
            facing_rad: 0.0,
            state,
        }
    }

    #[test]
    fn strides_follow_the_way_walked_whatever_the_pictures_rate() {
        let walk = |rate: f64| {
            let mut motion = None;
            let count = (4.0 * rate) as usize;
            for i in 0..=count {
                let time_s = i as f64 / rate;
                let at = Vec3::X * (1.2 * time_s) as f32;
                motion = Some(Motion::after(motion, &person(at, State::Walking), time_s));
            }
            motion.unwrap().strides
        };
        for rate in [10.0, 60.0, 144.0] {
            assert!(
                (walk(rate) - 4.8 / STRIDE_M).abs() < 1.0e-3,
                "{rate}: {}",
                walk(rate)
            );
        }
    }

    #[test]
    fn whoever_stands_does_not_step_and_jumps_are_no_steps() {
        let stands = Motion::after(None, &person(Vec3::ZERO, State::Standing), 1.0);
        let later = Motion::after(Some(stands), &person(Vec3::ZERO, State::Standing), 1.3);
        assert_eq!((later.strides, later.gait), (stands.strides, 0.0));
        let away = Motion::after(Some(later), &person(Vec3::Z * 5.0, State::Walking), 1.31);
        assert_eq!((away.gait, away.feet), (1.0, Vec3::Z * 5.0));
        let back = Motion::after(Some(away), &person(Vec3::ZERO, State::Standing), 0.0);
        assert_eq!(back.gait, 0.0);
    }

    #[test]
    fn turning_takes_the_short_way() {
        let mut one = person(Vec3::ZERO, State::Standing);
        one.facing_rad = 3.0;
        let begun = Motion::after(None, &one, 0.0);
        one.facing_rad = -3.0;
        let turned = Motion::after(Some(begun), &one, 0.1);
        assert!(turned.facing_rad > 3.0 && turned.facing_rad < 3.3);
    }

    #[test]
    fn duties_differ_in_shape_and_not_by_colour_alone() {
        let shape = |duty| {
            let clothes = Clothes::of(duty, 0, Quality::Low);
            let bones = Bone::ALL.map(|bone| clothes.bone(bone).corner_count());
            bones.to_vec()
        };
        let duties = [
            Duty::Operator,
            Duty::Spotter,
            Duty::LoaderDriver,
            Duty::Technician,
            Duty::Rigger,
            Duty::Visitor,
        ];
        for (i, &one) in duties.iter().enumerate() {
            for &other in &duties[i + 1..] {
                assert_ne!(shape(one), shape(other), "{one:?} {other:?}");
            }
        }
    }

    #[test]
    fn whoever_was_struck_stands_still() {
        let motion = |time_s| Motion::after(None, &person(Vec3::ZERO, State::Down), time_s);
        let at = |time_s| {
            posture(
                Duty::Rigger,
                State::Down,
                &motion(time_s),
                false,
                Some(Vec3::Z),
            )
        };
        assert_eq!(at(1.0), at(2.3));
    }
}
