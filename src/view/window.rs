//! The window: hands what was done to the desk, and draws what the desk shows.
//!
//! Order of a frame: devices (`PreUpdate`), the desk and the line's ticks, the scene, the cameras
//! (`Update`), the panels (egui's pass), then what the desk wants of the window.

use std::time::Duration;

use bevy::camera::visibility::RenderLayers;
use bevy::camera::{RenderTarget, SubCameraView};
use bevy::diagnostic::FrameCount;
use bevy::ecs::system::SystemParam;
use bevy::input::gamepad::GamepadButton;
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, WindowCloseRequested};
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::{
    EguiContexts, EguiInput, EguiPostUpdateSet, EguiPreUpdateSet, EguiPrimaryContextPass,
    EguiTextureHandle, EguiUserTextures, PrimaryEguiContext, egui,
};

use super::camera::{Glide, Viewpoint};
use super::desk::{Desk, Easel, Frame, House, Wants};
use super::engine::{self, Adapter, NoPicture};
use super::input::{self, Felt, Heard};
use super::on_foot::{self, OnFoot, Site, WalkInput};
use super::overlay::{self, AtOnce, Ghost, Overlays};
use super::panels;
use super::picture;
use super::quality::Quality;
use super::scene::{self, SceneSystems};
use super::theme;
use super::yard::Yard;
use crate::texts::Lang;

/// The window at first, pixels.
const SIZE: [u32; 2] = [1280, 720];
/// At the lowest level the second view is drawn in every so many frames, once.
const SECOND_EVERY: u32 = 4;
/// The second view's picture, pixels.
const SECOND: [u32; 2] = [480, 270];
/// A window that is not looked at draws this often, s.
const UNSEEN: Duration = Duration::from_secs(1);
/// What eyes see from top to bottom, rad.
const EYES_RAD: f32 = 1.05;
/// Frames that are looked at before the level of the picture is lowered, and what is too slow, s.
const FRAMES: u32 = 90;
const TOO_SLOW_S: f32 = 0.040;

/// The camera of the window, and that of the second view.
#[derive(Component)]
struct MainView(Option<Glide>);
#[derive(Component)]
struct SecondView;

/// The second view's picture.
#[derive(Resource)]
struct SecondPicture {
    texture: egui::TextureId,
    is_on: bool,
}

/// How long frames take, where the program chooses the level of the picture.
#[derive(Resource, Default)]
struct Timing {
    frames: u32,
    took_s: f32,
}

/// Opens the window and runs until it is closed.
///
/// # Errors
/// Where there is no screen or nothing can be drawn: then nothing has been begun.
pub fn open(environment: Lang) -> Result<(), NoPicture> {
    let mut app = engine::for_window(SIZE)?;
    let house = House::open(environment);
    let first = house.backdrop();
    let first = first.ok_or_else(|| NoPicture::Failed(String::new()))?;
    let desk = Desk::new(house);
    let adapter = app.world().get_resource::<Adapter>();
    let quality = adapter.map_or(Quality::Low, Adapter::suits);
    app.insert_resource(desk.quality().unwrap_or(quality))
        .insert_resource(Yard::new(&first))
        .insert_resource(desk.bindings().clone())
        .insert_non_send(desk)
        .init_resource::<Timing>()
        .add_plugins((
            scene::plugin,
            overlay::plugin,
            on_foot::plugin,
            input::plugin,
        ))
        .add_systems(Startup, set_up)
        .add_systems(
            PreUpdate,
            hold_keys_back
                .after(EguiPreUpdateSet::ProcessInput)
                .before(EguiPreUpdateSet::BeginPass),
        )
        .add_systems(
            Update,
            (
                drive.before(SceneSystems::Build),
                look.after(SceneSystems::Move),
            ),
        )
        .add_systems(EguiPrimaryContextPass, show)
        // Not later: what a window is told after Bevy has looked at it (in `Last`) is lost where an
        // event of the window system comes before the next frame.
        .add_systems(
            PostUpdate,
            (close, want)
                .chain()
                .after(EguiPostUpdateSet::PostProcessOutput),
        );
    engine::run(app)
}

fn set_up(
    mut commands: Commands,
    mut images: ResMut<Assets<Image>>,
    mut textures: ResMut<EguiUserTextures>,
    quality: Res<Quality>,
) {
    commands.spawn((
        scene::camera(*quality),
        MainView(None),
        RenderLayers::default(),
        PrimaryEguiContext,
    ));
    let image = images.add(picture::image(SECOND));
    let texture = textures.add_image(EguiTextureHandle::Strong(image.clone()));
    commands.spawn((
        scene::camera(*quality),
        Camera {
            order: -1,
            is_active: false,
            ..default()
        },
        RenderTarget::Image(image.into()),
        SecondView,
    ));
    commands.insert_resource(SecondPicture {
        texture,
        is_on: false,
    });
}

/// On the line keys work the line; elsewhere a gamepad works as keys.
fn hold_keys_back(
    desk: NonSend<Desk>,
    yard: Res<Yard>,
    pads: Query<&Gamepad>,
    mut inputs: Query<&mut EguiInput, With<PrimaryEguiContext>>,
    mut heard: Local<Heard>,
) {
    let wants = desk.wants(&yard);
    let to_line = wants.keys_to_line;
    for mut input in &mut inputs {
        heard.keep(&mut input.events, to_line);
        if to_line && !wants.pad_to_menu {
            continue;
        }
        // On the line its button for Escape is the emergency stop.
        let escapes = |event: &egui::Event| matches!(event, egui::Event::Key { key, .. } if *key == egui::Key::Escape);
        for pad in &pads {
            input
                .events
                .extend(pressed(pad).filter(|event| !(to_line && escapes(event))));
        }
    }
}

/// What a gamepad's buttons are as keys.
fn pressed(pad: &Gamepad) -> impl Iterator<Item = egui::Event> + '_ {
    use GamepadButton as B;
    use egui::Key;
    let keys = [
        (B::DPadUp, Key::ArrowUp),
        (B::DPadDown, Key::ArrowDown),
        (B::DPadLeft, Key::ArrowLeft),
        (B::DPadRight, Key::ArrowRight),
        (B::South, Key::Enter),
        (B::East, Key::Escape),
        (B::RightTrigger, Key::Tab),
        (B::LeftTrigger2, Key::PageUp),
        (B::RightTrigger2, Key::PageDown),
    ];
    keys.into_iter().flat_map(move |(button, key)| {
        let down = pad.just_pressed(button);
        let event = |pressed| egui::Event::Key {
            key,
            physical_key: None,
            pressed,
            repeat: false,
            modifiers: egui::Modifiers::NONE,
        };
        [
            down.then(|| event(true)),
            pad.just_released(button).then(|| event(false)),
        ]
        .into_iter()
        .flatten()
    })
}

fn drive(
    mut desk: NonSendMut<Desk>,
    mut yard: ResMut<Yard>,
    felt: Res<Felt>,
    walk: Res<WalkInput>,
    time: Res<Time<Real>>,
    mut commands: Commands,
) {
    let frame = Frame {
        wall_s: time.delta_secs_f64(),
        felt: &felt,
        walk: &walk,
    };
    desk.drive(&frame, &mut yard);
    if yard.sky != desk.sky() {
        yard.sky = desk.sky();
    }
    match desk.on_foot() {
        Some((on_foot, site)) => {
            commands.insert_resource(on_foot.clone());
            commands.insert_resource(site.clone());
        }
        None => {
            commands.remove_resource::<OnFoot>();
            commands.remove_resource::<Site>();
        }
    }
}

fn look(
    desk: NonSend<Desk>,
    yard: Res<Yard>,
    (time, frame, quality): (Res<Time<Real>>, Res<FrameCount>, Res<Quality>),
    window: Single<&Window, With<PrimaryWindow>>,
    mut picture: ResMut<SecondPicture>,
    mut main: Single<
        (
            &mut MainView,
            &mut Camera,
            &mut Transform,
            &mut Projection,
            &mut RenderLayers,
        ),
        Without<SecondView>,
    >,
    mut second: Single<(&mut Camera, &mut Transform, &mut Projection), With<SecondView>>,
) {
    let wants = desk.wants(&yard);
    let (goal, field_rad) = seen(&wants.viewpoint, &yard);
    let (view, camera, transform, projection, layers) = &mut *main;
    let wanted = if wants.shows_yard {
        RenderLayers::default()
    } else {
        RenderLayers::none()
    };
    if layers.set_if_neq(wanted) {
        // Where no yard is seen there is no sky either, not even for the frame before a screen is drawn.
        camera.clear_color = if wants.shows_yard {
            ClearColorConfig::Default
        } else {
            ClearColorConfig::Custom(covered())
        };
    }
    let (part, more) = part_of(window.size(), wants.seen_in);
    if camera.sub_camera_view != part {
        camera.sub_camera_view = part;
    }
    let set_field = |projection: &mut Projection, field_rad: f32| {
        set_field(projection, 2.0 * (more * (0.5 * field_rad).tan()).atan());
    };
    if let Some(eyes) = wants.eyes {
        view.0 = Some(Glide::at(eyes, EYES_RAD));
        **transform = eyes;
        set_field(projection, EYES_RAD);
        return;
    }
    let glide = view.0.get_or_insert(Glide::at(goal, field_rad));
    let (now, field) = glide.on(goal, field_rad, time.delta_secs(), wants.reduced_motion);
    **transform = now;
    set_field(projection, field);

    let (camera, transform, projection) = &mut *second;
    let was_on = core::mem::replace(&mut picture.is_on, wants.second.is_some());
    // To draw the yard twice takes twice as long: between times the last picture stands.
    let rests = *quality == Quality::Low
        && wants.idle.is_none()
        && was_on
        && !frame.0.is_multiple_of(SECOND_EVERY);
    let is_drawn = picture.is_on && !rests;
    if camera.is_active != is_drawn {
        camera.is_active = is_drawn;
    }
    if let Some(viewpoint) = &wants.second {
        let (goal, field_rad) = seen(viewpoint, &yard);
        **transform = goal;
        self::set_field(projection, field_rad);
    }
}

/// A view whose axis is in the middle of a part of the window, none where that is the whole; and how
/// much more than that part the whole view holds from top to bottom.
fn part_of(window: Vec2, seen_in: egui::Rect) -> (Option<SubCameraView>, f32) {
    let middle = Vec2::new(seen_in.center().x, seen_in.center().y);
    // The whole view reaches as far to every side of the middle as the window does to the farther one.
    let half = middle.max(1.0 - middle);
    if middle.distance(Vec2::splat(0.5)) < 1.0e-3 {
        return (None, 1.0);
    }
    let part = SubCameraView {
        full_size: (2.0 * half * window).round().as_uvec2().max(UVec2::ONE),
        offset: (half - middle) * window,
        size: window.round().as_uvec2().max(UVec2::ONE),
    };
    (Some(part), 2.0 * half.y / seen_in.height().max(0.1))
}

fn seen(viewpoint: &Viewpoint, yard: &Yard) -> (Transform, f32) {
    (viewpoint.transform(yard), viewpoint.field_rad())
}

/// The ground of the screens.
fn covered() -> Color {
    let [red, green, blue, _] = theme::INK.to_array();
    Color::srgb_u8(red, green, blue)
}

fn set_field(projection: &mut Projection, field_rad: f32) {
    if let Projection::Perspective(perspective) = projection {
        perspective.fov = field_rad;
    }
}

/// What the panels are drawn with.
#[derive(SystemParam)]
struct Drawing<'w, 's> {
    contexts: EguiContexts<'w, 's>,
    picture: Res<'w, SecondPicture>,
    camera: Single<'w, 's, (&'static Camera, &'static GlobalTransform), With<MainView>>,
    yard: Res<'w, Yard>,
    quality: Res<'w, Quality>,
}

fn show(mut desk: NonSendMut<Desk>, mut drawing: Drawing) -> Result {
    let (camera, placed) = *drawing.camera;
    let easel = Easel {
        yard: &drawing.yard,
        second: drawing.picture.is_on.then(|| panels::Picture {
            texture: drawing.picture.texture,
            size_px: egui::vec2(SECOND[0] as f32, SECOND[1] as f32),
        }),
        project: &|point| {
            let seen = camera.world_to_viewport(placed, point).ok()?;
            Some(egui::pos2(seen.x, seen.y))
        },
    };
    let context = drawing.contexts.ctx_mut()?;
    let soft = *drawing.quality > Quality::Low;
    context.tessellation_options_mut(|options| options.feathering = soft);
    desk.show(context, &easel);
    Ok(())
}

/// The window's own cross.
fn close(mut desk: NonSendMut<Desk>, mut asked: MessageReader<WindowCloseRequested>) {
    if asked.read().next().is_some() {
        desk.close();
    }
}

/// What the desk wants of the window.
#[derive(SystemParam)]
struct Wanting<'w, 's> {
    window: Single<'w, 's, &'static mut Window, With<PrimaryWindow>>,
    winit: ResMut<'w, WinitSettings>,
    quality: ResMut<'w, Quality>,
    adapter: Option<Res<'w, Adapter>>,
    timing: ResMut<'w, Timing>,
    bindings: ResMut<'w, super::bindings::Bindings>,
    exit: MessageWriter<'w, AppExit>,
    overlays: ResMut<'w, Overlays>,
    ghost: ResMut<'w, Ghost>,
    at_once: ResMut<'w, AtOnce>,
    time: Res<'w, Time<Real>>,
    yard: Res<'w, Yard>,
}

fn want(desk: NonSend<Desk>, mut wanting: Wanting) {
    let wants = desk.wants(&wanting.yard);
    let title = format!("{} - {}", engine::TITLE, desk.caption());
    if wanting.window.title != title {
        wanting.window.title = title;
    }
    let focused_mode = wants
        .idle
        .map_or(UpdateMode::Continuous, UpdateMode::reactive);
    if wanting.winit.focused_mode != focused_mode {
        *wanting.winit = WinitSettings {
            focused_mode,
            unfocused_mode: match wants.idle {
                Some(_) => UpdateMode::reactive_low_power(UNSEEN),
                None => UpdateMode::Continuous,
            },
        };
    }
    if *wanting.bindings != *desk.bindings() {
        *wanting.bindings = desk.bindings().clone();
    }
    wanting.overlays.set_if_neq(wants.overlays);
    wanting.ghost.set_if_neq(wants.ghost.clone());
    wanting.at_once.set_if_neq(AtOnce(wants.reduced_motion));
    choose_quality(&wants, &mut wanting);
    if wants.quit {
        wanting.exit.write(AppExit::Success);
    }
}

/// The level that is set, or one lower where frames take too long.
fn choose_quality(wants: &Wants, wanting: &mut Wanting) {
    let suits = wanting
        .adapter
        .as_ref()
        .map_or(Quality::Low, |adapter| adapter.suits());
    let timing = &mut *wanting.timing;
    let mut quality = wants.quality.unwrap_or(match timing.frames {
        0 => suits,
        _ => *wanting.quality,
    });
    if wants.quality.is_none() && wants.idle.is_none() {
        timing.frames += 1;
        timing.took_s += wanting.time.delta_secs();
        if timing.frames >= FRAMES {
            if timing.took_s > TOO_SLOW_S * timing.frames as f32 {
                quality = quality.lower();
            }
            *timing = Timing {
                frames: 1,
                took_s: wanting.time.delta_secs(),
            };
        }
    }
    wanting.quality.set_if_neq(quality);
}
