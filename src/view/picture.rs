//! Pictures without a window.

use std::sync::{Arc, Mutex};

use bevy::app::SubApps;
use bevy::asset::RenderAssetUsages;
use bevy::camera::RenderTarget;
use bevy::prelude::*;
use bevy::render::render_resource::{
    Extent3d, PollType, TextureDimension, TextureFormat, TextureUsages,
};
use bevy::render::renderer::RenderDevice;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy_egui::{EguiContexts, EguiPrimaryContextPass, PrimaryEguiContext, egui};
use jpeg_encoder::{ColorType, Encoder};

use super::camera::Viewpoint;
use super::engine::{self, Adapter, NoPicture};
use super::overlay::{self, AtOnce, Overlays};
use super::quality::Quality;
use super::scene;
use super::scene::weather::Sky;
use super::shown::Shown;
use super::yard::Yard;
use crate::report::{Pictures, Study, Taken};
use crate::sim::line::Line;
use crate::texts::Message;

/// Frames that are drawn before one counts: textures and pipelines come in.
const WARM_UP_FRAMES: usize = 3;
/// Frames that are waited for a picture at the most.
const PATIENCE_FRAMES: usize = 20;

/// Of 100: no blocks are seen on the edges of rails and pipe.
const JPEG_QUALITY: u8 = 88;

/// What is drawn over the yard.
type Over = Box<dyn FnMut(&egui::Context) + Send + Sync>;

#[derive(Resource, Default)]
struct OverYard(Option<Over>);

/// Of every picture of a report, pixels: sharp across a sheet of paper.
const OF_REPORT: [u32; 2] = [1280, 720];

/// The decisive moments of a run, drawn for its report.
pub fn of_moments(study: &Study) -> Pictures {
    // What draws by the processor would take minutes for the highest level.
    let studio = engine::adapter().and_then(|adapter| Studio::open(OF_REPORT, adapter.suits()));
    let drawn = studio.and_then(|mut studio| {
        study.drawn(|line, moment| {
            let picture = studio.take(line, |yard| {
                Viewpoint::of_moment(moment.camera, moment.subject, yard.rig())
            })?;
            Ok(Taken {
                bytes: picture.jpeg()?,
                media_type: "image/jpeg",
                size: picture.size(),
            })
        })
    });
    match drawn {
        Ok(taken) => Pictures::Taken(taken),
        Err(error) => {
            Pictures::Without(Message::new("paper-pictures-failed").with("why", error.message()))
        }
    }
}

/// Draws lines into pictures of one size.
pub struct Studio {
    apps: SubApps,
    target: Handle<Image>,
    camera: Entity,
    sky: Option<Sky>,
    warm: bool,
}

impl Studio {
    /// # Errors
    /// Where nothing can be drawn.
    pub fn open(size: [u32; 2], quality: Quality) -> Result<Self, NoPicture> {
        let mut app = engine::for_pictures()?;
        app.insert_resource(quality)
            .insert_resource(AtOnce(true))
            .init_resource::<OverYard>()
            .add_plugins((scene::plugin, overlay::plugin))
            .add_systems(EguiPrimaryContextPass, draw_over);
        app.finish();
        app.cleanup();
        let mut apps = core::mem::take(app.sub_apps_mut());
        let world = apps.main.world_mut();
        let target = world.resource_mut::<Assets<Image>>().add(image(size));
        let camera = world
            .spawn((
                scene::camera(quality),
                RenderTarget::Image(target.clone().into()),
                PrimaryEguiContext,
            ))
            .id();
        Ok(Self {
            apps,
            target,
            camera,
            sky: None,
            warm: false,
        })
    }

    /// A picture of a line as it stands.
    ///
    /// # Errors
    /// Where the renderer gives none.
    pub fn take(
        &mut self,
        line: &Line,
        from: impl Fn(&Yard) -> Viewpoint,
    ) -> Result<Picture, NoPicture> {
        self.show(line, from);
        self.shoot()
    }

    /// Draws a line as it stands, and waits until it is drawn.
    pub fn show(&mut self, line: &Line, from: impl Fn(&Yard) -> Viewpoint) {
        let world = self.apps.main.world_mut();
        if !world.contains_resource::<Yard>() {
            world.insert_resource(Yard::new(line));
        }
        let needs_contacts = world.resource::<Overlays>().needs_contacts();
        let mut yard = world.resource_mut::<Yard>();
        yard.show(line);
        yard.sky = self.sky;
        if needs_contacts {
            yard.shown = Shown::of(line).with_contacts(line);
        }
        let yard = world.resource::<Yard>();
        let viewpoint = from(yard);
        let (transform, field_rad) = (viewpoint.transform(yard), viewpoint.field_rad());
        let mut camera = world.entity_mut(self.camera);
        camera.insert((
            transform,
            Projection::Perspective(PerspectiveProjection {
                fov: field_rad,
                ..default()
            }),
        ));
        if !self.warm {
            for _ in 0..WARM_UP_FRAMES {
                self.frame();
            }
            self.warm = true;
        }
        self.frame();
    }

    /// Draws these marks into every picture from now on.
    pub fn overlay(&mut self, overlays: Overlays) {
        self.apps.main.world_mut().insert_resource(overlays);
    }

    /// Draws every picture from now on under this sky.
    pub fn under(&mut self, sky: Option<Sky>) {
        self.sky = sky;
    }

    /// How many things are drawn, and of how many triangles they are.
    pub fn counts(&mut self) -> (usize, usize) {
        let world = self.apps.main.world_mut();
        let mut drawn = world.query::<(&Mesh3d, &ViewVisibility)>();
        let meshes = world.resource::<Assets<Mesh>>();
        let sizes: Vec<usize> = drawn
            .iter(world)
            .filter(|(_, visible)| visible.get())
            .map(|(mesh, _)| {
                let mesh = meshes.get(&mesh.0);
                mesh.map_or(0, |mesh| {
                    mesh.indices()
                        .map_or(mesh.count_vertices(), |indices| indices.len())
                        / 3
                })
            })
            .collect();
        (sizes.len(), sizes.iter().sum())
    }

    /// What draws.
    pub fn adapter(&self) -> &str {
        let world = self.apps.main.world();
        world
            .get_resource::<Adapter>()
            .map_or("", |adapter| adapter.name.as_str())
    }

    /// Draws panels over every picture from now on.
    pub fn draw_over(&mut self, over: impl FnMut(&egui::Context) + Send + Sync + 'static) {
        self.apps
            .main
            .world_mut()
            .insert_resource(OverYard(Some(Box::new(over))));
        self.warm = false;
    }

    /// Draws one frame and waits until it is drawn.
    pub fn frame(&mut self) {
        self.apps.update();
        let device = self.apps.main.world().get_resource::<RenderDevice>();
        if let Some(device) = device {
            let _ = device.wgpu_device().poll(PollType::Wait {
                submission_index: None,
                timeout: None,
            });
        }
    }

    fn shoot(&mut self) -> Result<Picture, NoPicture> {
        let taken: Arc<Mutex<Option<Image>>> = Arc::default();
        let keep = Arc::clone(&taken);
        self.apps
            .main
            .world_mut()
            .spawn(Screenshot::image(self.target.clone()))
            .observe(move |captured: On<ScreenshotCaptured>| {
                if let Ok(mut keep) = keep.lock() {
                    *keep = Some(captured.image.clone());
                }
            });
        for _ in 0..PATIENCE_FRAMES {
            self.frame();
            let image = taken.lock().ok().and_then(|mut taken| taken.take());
            if let Some(image) = image {
                return Ok(Picture(image));
            }
        }
        Err(NoPicture::Failed(String::new()))
    }
}

fn draw_over(mut over: ResMut<OverYard>, mut contexts: EguiContexts) -> Result {
    if let Some(over) = &mut over.0 {
        over(contexts.ctx_mut()?);
    }
    Ok(())
}

/// A picture that has been taken.
pub struct Picture(Image);

impl Picture {
    /// Width and height, pixels.
    pub fn size(&self) -> [u32; 2] {
        [self.0.width(), self.0.height()]
    }

    /// Red, green, blue, opacity of every pixel, row by row from the top.
    pub fn pixels(&self) -> &[u8] {
        self.0.data.as_deref().unwrap_or_default()
    }

    /// As the bytes of a JPEG file: small enough to travel inside a page.
    ///
    /// # Errors
    /// Where the renderer's picture is too large for one.
    pub fn jpeg(&self) -> Result<Vec<u8>, NoPicture> {
        let failed = |error: &dyn std::fmt::Display| NoPicture::Failed(error.to_string());
        let [width, height] = self.size().map(u16::try_from);
        let width = width.map_err(|error| failed(&error))?;
        let height = height.map_err(|error| failed(&error))?;
        let mut bytes = Vec::new();
        Encoder::new(&mut bytes, JPEG_QUALITY)
            .encode(self.pixels(), width, height, ColorType::Rgba)
            .map_err(|error| failed(&error))?;
        Ok(bytes)
    }

    /// As the bytes of a PNG file.
    ///
    /// # Errors
    /// Where the renderer's picture cannot be read.
    pub fn png(&self) -> Result<Vec<u8>, NoPicture> {
        let failed = |error: &dyn std::fmt::Display| NoPicture::Failed(error.to_string());
        let picture = self
            .0
            .clone()
            .try_into_dynamic()
            .map_err(|error| failed(&error))?;
        let mut bytes = std::io::Cursor::new(Vec::new());
        picture
            .to_rgb8()
            .write_to(&mut bytes, image::ImageFormat::Png)
            .map_err(|error| failed(&error))?;
        Ok(bytes.into_inner())
    }
}

/// A picture to draw into.
pub fn image([width, height]: [u32; 2]) -> Image {
    let mut image = Image::new_uninit(
        Extent3d {
            width,
            height,
            depth_or_array_layers: 1,
        },
        TextureDimension::D2,
        TextureFormat::Rgba8UnormSrgb,
        RenderAssetUsages::RENDER_WORLD,
    );
    image.texture_descriptor.usage |= TextureUsages::RENDER_ATTACHMENT | TextureUsages::COPY_SRC;
    image
}
