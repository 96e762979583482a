//! Takes what has been drawn and writes it as a PNG file.

use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::sync::mpsc::Sender;

use bevy::image::ImageFormat;
use bevy::prelude::*;
use bevy::render::view::window::screenshot::{Screenshot, ScreenshotCaptured};

use super::NotShown;
use crate::game::replaced;

/// Takes the picture that is drawn into an image, writes it, and ends the app: well only if the file is there.
pub(super) fn take(commands: &mut Commands, image: Handle<Image>, path: PathBuf, told: Sender<NotShown>) {
    commands.spawn(Screenshot::image(image)).observe(
        move |captured: On<ScreenshotCaptured>, mut exit: MessageWriter<AppExit>| {
            let ended = match write(&captured.image, &path) {
                Ok(()) => AppExit::Success,
                Err(why) => {
                    // Whoever listens for it is there until the app ends.
                    let _ = told.send(NotShown::NotWritten(why));
                    AppExit::error()
                }
            };
            exit.write(ended);
        },
    );
}

/// Writes an image as a PNG file, or says why it cannot be. A file is whole or as it was.
fn write(image: &Image, path: &Path) -> Result<(), String> {
    let drawn = image.clone().try_into_dynamic().map_err(|why| why.to_string())?;
    let png = ImageFormat::Png.as_image_crate_format().ok_or_else(|| format!("{:?}", ImageFormat::Png))?;
    let mut bytes = Cursor::new(Vec::new());
    // What lies behind the scene is nothing: the picture is opaque.
    drawn.to_rgb8().write_to(&mut bytes, png).map_err(|why| why.to_string())?;
    replaced::write(path, bytes.into_inner()).map_err(|why| why.to_string())
}

#[cfg(test)]
mod tests {
    use bevy::asset::RenderAssetUsages;
    use bevy::render::render_resource::{Extent3d, TextureDimension, TextureFormat};

    use super::*;

    fn image(format: TextureFormat) -> Image {
        let size = Extent3d { width: 4, height: 2, depth_or_array_layers: 1 };
        let kept = RenderAssetUsages::MAIN_WORLD;
        Image::new_fill(size, TextureDimension::D2, &[200, 100, 50, 255], format, kept)
    }

    #[test]
    fn a_picture_is_written_whole_or_not_at_all() {
        let folder = tempfile::tempdir().expect("a folder for temporary files");
        let path = folder.path().join("a.png");
        let drawn = image(TextureFormat::Rgba8UnormSrgb);
        write(&drawn, &path).expect("it is written");
        let bytes = std::fs::read(&path).expect("it is there");
        assert!(bytes.starts_with(b"\x89PNG\r\n\x1a\n") && bytes.ends_with(b"IEND\xaeB`\x82"), "{bytes:?}");
        let nowhere = folder.path().join("nowhere/a.png");
        assert!(write(&drawn, &nowhere).is_err());
        // What is no picture is not written over one.
        assert!(write(&image(TextureFormat::R32Float), &path).is_err());
        assert_eq!(std::fs::read(&path).expect("it is there"), bytes);
        assert_eq!(std::fs::read_dir(folder.path()).expect("a folder").count(), 1);
    }
}
