//! The renderer's frame: what the machine has to offer, and an app for a window or for pictures.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};

use bevy::app::PluginGroupBuilder;
use bevy::asset::load_internal_asset;
use bevy::image::ImageSampler;
use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::settings::{Backends, WgpuSettings};
use bevy::window::{ExitCondition, PresentMode, WindowResolution};
use bevy::winit::WinitPlugin;
use bevy_egui::render::EGUI_SHADER_HANDLE;
use bevy_egui::{EguiGlobalSettings, EguiPlugin};

use super::quality::Quality;
use crate::texts::Message;

/// The window's name, for people and for window managers.
pub const TITLE: &str = "Chockline";
/// What the renderer's own log is held to: it warns of software adapters, which we say ourselves.
const LOG: &str = "error,wgpu_hal=off,bevy_render=error,bevy_winit=error";

/// Why there is no picture.
#[derive(Clone, Debug, PartialEq)]
pub enum NoPicture {
    /// No screen to open a window on.
    NoDisplay,
    /// The window system would not open a window; what it said.
    Window(String),
    /// No graphics adapter, real or in software.
    NoAdapter,
    /// The adapter cannot do what is needed; its name and what it lacks.
    TooOld { adapter: String, lacks: String },
    /// A picture could not be made or written; what was said.
    Failed(String),
}

impl NoPicture {
    /// What is missing, and what to do.
    pub fn message(&self) -> Message {
        match self {
            Self::NoDisplay => Message::new("no-display"),
            Self::Window(said) => Message::new("no-window").with("said", said.clone()),
            Self::NoAdapter => Message::new("no-adapter"),
            Self::TooOld { adapter, lacks } => Message::new("adapter-too-old")
                .with("adapter", adapter.clone())
                .with("lacks", lacks.clone()),
            Self::Failed(said) => Message::new("no-picture").with("said", said.clone()),
        }
    }
}

/// The adapter that will draw.
#[derive(Resource, Clone, Debug, PartialEq)]
pub struct Adapter {
    pub name: String,
    /// It draws by the processor.
    pub is_software: bool,
    /// It shares the processor's memory.
    pub is_integrated: bool,
}

impl Adapter {
    /// The level of the picture that suits it until frames have been timed.
    pub fn suits(&self) -> Quality {
        match (self.is_software, self.is_integrated) {
            (true, _) => Quality::Low,
            (false, true) => Quality::Medium,
            (false, false) => Quality::High,
        }
    }
}

/// The drivers that are asked; an older kind only where the environment names it.
fn backends() -> Backends {
    Backends::from_env().unwrap_or(Backends::PRIMARY)
}

/// Looks for an adapter as the renderer will.
///
/// # Errors
/// Where there is none, or none that will do.
pub fn adapter() -> Result<Adapter, NoPicture> {
    let mut descriptor = wgpu::InstanceDescriptor::new_without_display_handle();
    descriptor.backends = backends();
    let instance = wgpu::Instance::new(descriptor);
    let wanted = wgpu::RequestAdapterOptions {
        power_preference: wgpu::PowerPreference::HighPerformance,
        ..Default::default()
    };
    let Ok(found) = bevy::tasks::block_on(instance.request_adapter(&wanted)) else {
        return Err(NoPicture::NoAdapter);
    };
    let info = found.get_info();
    let needed = wgpu::Limits::downlevel_defaults();
    let limits = found.limits();
    let mut lacks = Vec::new();
    needed.check_limits_with_fail_fn(&limits, false, |name, needed, has| {
        lacks.push(format!("{name} {has} < {needed}"));
    });
    if lacks.is_empty() {
        Ok(Adapter {
            is_software: info.device_type == wgpu::DeviceType::Cpu,
            is_integrated: info.device_type == wgpu::DeviceType::IntegratedGpu,
            name: info.name,
        })
    } else {
        Err(NoPicture::TooOld {
            adapter: info.name,
            lacks: lacks.join(", "),
        })
    }
}

/// Whether there is a screen at all.
fn has_display() -> bool {
    if !cfg!(target_os = "linux") {
        return true;
    }
    let is_set = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    is_set("DISPLAY") || (cfg!(feature = "wayland") && is_set("WAYLAND_DISPLAY"))
}

/// An app that draws into images, with nothing to run it: its owner updates it.
///
/// # Errors
/// Where nothing can be drawn.
pub fn for_pictures() -> Result<App, NoPicture> {
    let adapter = adapter()?;
    let window = WindowPlugin {
        primary_window: None,
        exit_condition: ExitCondition::DontExit,
        ..default()
    };
    attempt(|| {
        let mut app = App::new();
        let is_software = adapter.is_software;
        let plugins = DefaultPlugins.set(window).set(render(true));
        app.insert_resource(adapter)
            .add_plugins(logged(plugins).disable::<WinitPlugin>());
        equip(&mut app, is_software);
        app
    })
}

/// An app with a window.
///
/// # Errors
/// Where there is no screen, or nothing can be drawn.
pub fn for_window(size: [u32; 2]) -> Result<App, NoPicture> {
    if !has_display() {
        return Err(NoPicture::NoDisplay);
    }
    let adapter = adapter()?;
    let window = WindowPlugin {
        primary_window: Some(Window {
            title: TITLE.to_owned(),
            name: Some(TITLE.to_lowercase()),
            resolution: WindowResolution::new(size[0], size[1]),
            // Waiting for the screen as well would cost a machine that draws by the processor frames.
            present_mode: if adapter.is_software {
                PresentMode::AutoNoVsync
            } else {
                PresentMode::AutoVsync
            },
            ..default()
        }),
        // The run in the window is brought to its end first.
        close_when_requested: false,
        exit_condition: ExitCondition::DontExit,
        ..default()
    };
    attempt(|| {
        let mut app = App::new();
        let is_software = adapter.is_software;
        let plugins = DefaultPlugins.set(window).set(render(false));
        app.insert_resource(adapter).add_plugins(logged(plugins));
        equip(&mut app, is_software);
        app
    })
}

/// Runs an app with a window until it is closed.
///
/// # Errors
/// Where the window system or a driver fails.
pub fn run(mut app: App) -> Result<(), NoPicture> {
    attempt(move || app.run()).map(|_| ())
}

/// What draws panels, on the cameras that are told to, and what makes drawing by the processor bearable.
fn equip(app: &mut App, is_software: bool) {
    app.add_plugins(EguiPlugin {
        // A choice of textures at every pixel costs more than it saves: there are few.
        bindless_mode_array_size: None,
    });
    app.world_mut()
        .resource_mut::<EguiGlobalSettings>()
        .auto_create_primary_context = false;
    if is_software {
        load_internal_asset!(app, EGUI_SHADER_HANDLE, "panels.wgsl", Shader::from_wgsl);
        app.add_systems(Last, filter_evenly);
    }
}

/// Textures seen at a slant are not sharpened: software drivers take seconds a frame for it.
fn filter_evenly(mut made: MessageReader<AssetEvent<Image>>, mut images: ResMut<Assets<Image>>) {
    for event in made.read() {
        let AssetEvent::Added { id } = event else {
            continue;
        };
        if let Some(mut image) = images.get_mut(*id)
            && let ImageSampler::Descriptor(sampler) = &mut image.sampler
        {
            sampler.anisotropy_clamp = 1;
        }
    }
}

/// The first app of the program brings its log, and there can be no other: pictures are also drawn
/// beside a window.
fn logged(plugins: PluginGroupBuilder) -> PluginGroupBuilder {
    static IS_THERE: AtomicBool = AtomicBool::new(false);
    if IS_THERE.swap(true, Ordering::Relaxed) {
        return plugins.disable::<LogPlugin>();
    }
    plugins.set(LogPlugin {
        filter: LOG.to_owned(),
        ..default()
    })
}

fn render(at_once: bool) -> RenderPlugin {
    RenderPlugin {
        render_creation: WgpuSettings {
            backends: Some(backends()),
            ..default()
        }
        .into(),
        synchronous_pipeline_compilation: at_once,
        ..default()
    }
}

/// The window system and the drivers panic where they fail: said as an error instead.
fn attempt<T>(build: impl FnOnce() -> T) -> Result<T, NoPicture> {
    let hook = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {}));
    let built = catch_unwind(AssertUnwindSafe(build));
    std::panic::set_hook(hook);
    built.map_err(|panic| {
        let said = panic
            .downcast_ref::<String>()
            .map(String::as_str)
            .or_else(|| panic.downcast_ref::<&str>().copied());
        NoPicture::Window(said.unwrap_or_default().to_owned())
    })
}
