//! How large the app's files are, as they are and gzipped.

use anyhow::Result;
use flate2::{Compression, write::GzEncoder};
use std::io::Write;
use std::path::{Path, PathBuf};

/// The smallest gzip of these bytes.
pub fn gzip(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes)?;
    Ok(encoder.finish()?)
}

/// Every file under the folder, relative to it, in order of name.
pub fn files_under(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    collect(folder, Path::new(""), &mut files)?;
    files.sort();
    Ok(files)
}

fn collect(root: &Path, inside: &Path, files: &mut Vec<PathBuf>) -> Result<()> {
    for entry in std::fs::read_dir(root.join(inside))? {
        let entry = entry?;
        let path = inside.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            collect(root, &path, files)?;
        } else {
            files.push(path);
        }
    }
    Ok(())
}

/// Prints raw and gzipped bytes of every file and of all together.
pub fn print(folder: &Path) -> Result<()> {
    let (mut raw_total, mut gzip_total) = (0, 0);
    println!("{:<28} {:>10} {:>10}", "file", "raw bytes", "gzip bytes");
    for file in files_under(folder)? {
        let bytes = std::fs::read(folder.join(&file))?;
        let zipped = gzip(&bytes)?.len();
        println!("{:<28} {:>10} {:>10}", file.display(), bytes.len(), zipped);
        raw_total += bytes.len();
        gzip_total += zipped;
    }
    println!("{:<28} {raw_total:>10} {gzip_total:>10}", "together");
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read;

    #[test]
    fn gzip_comes_back_whole_and_is_smaller() {
        let text = "a field, a gap, a field, a gap. ".repeat(100);
        let zipped = gzip(text.as_bytes()).unwrap();
        let mut back = String::new();
        flate2::read::GzDecoder::new(zipped.as_slice())
            .read_to_string(&mut back)
            .unwrap();
        assert_eq!(back, text);
        assert!(zipped.len() < text.len() / 10);
    }

    #[test]
    fn files_are_listed_from_every_depth_in_order() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::create_dir_all(folder.path().join("b/c")).unwrap();
        for name in ["z", "a", "b/c/d"] {
            std::fs::write(folder.path().join(name), name).unwrap();
        }
        let found = files_under(folder.path()).unwrap();
        assert_eq!(found, ["a", "b/c/d", "z"].map(PathBuf::from));
    }
}
