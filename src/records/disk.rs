//! What kind of disk a store lies on. Several machines that write to one file over a network lose
//! data where the network's locks do not hold, and nothing tells whether they do.

use std::path::{Component, Path, PathBuf, Prefix};

/// See the module's text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Disk {
    /// Of this machine, as far as can be seen.
    Own,
    /// Of another machine; the kind of file system.
    Network(String),
}

/// File systems that another machine may hold, by the names that Linux gives them.
const NETWORKED: [&str; 15] = [
    "nfs",
    "nfs4",
    "cifs",
    "smb3",
    "smbfs",
    "9p",
    "afs",
    "ceph",
    "lustre",
    "glusterfs",
    "gfs2",
    "ocfs2",
    "davfs",
    "sshfs",
    "ncpfs",
];
/// Where Linux says what is mounted.
const MOUNTS: &str = "/proc/self/mountinfo";

impl Disk {
    /// The disk of a file that need not be there yet.
    pub fn of(path: &Path) -> Self {
        let whole = whole(path);
        if let Some(Component::Prefix(prefix)) = whole.components().next()
            && let Prefix::UNC(..) | Prefix::VerbatimUNC(..) = prefix.kind()
        {
            return Self::Network("UNC".to_owned());
        }
        let mounts = std::fs::read_to_string(MOUNTS).unwrap_or_default();
        match file_system(&mounts, &whole) {
            Some(kind) if is_networked(kind) => Self::Network(kind.to_owned()),
            _ => Self::Own,
        }
    }
}

fn is_networked(kind: &str) -> bool {
    // What runs in a user's program names itself after a dot.
    let kind = kind.strip_prefix("fuse.").unwrap_or(kind);
    NETWORKED.contains(&kind)
}

/// The path without links, as far as it is there.
fn whole(path: &Path) -> PathBuf {
    let mut there = path;
    let mut rest = Vec::new();
    loop {
        let asked = if there.as_os_str().is_empty() {
            Path::new(".")
        } else {
            there
        };
        if let Ok(whole) = asked.canonicalize() {
            return rest
                .iter()
                .rev()
                .fold(whole, |whole, part| whole.join(part));
        }
        match (there.parent(), there.file_name()) {
            (Some(parent), Some(name)) => {
                rest.push(name);
                there = parent;
            }
            _ => return path.to_owned(),
        }
    }
}

/// The file system that holds a path: of the mounts above it the innermost, of those in one place the
/// last.
fn file_system<'a>(mounts: &'a str, path: &Path) -> Option<&'a str> {
    let mounted = mounts.lines().filter_map(|line| {
        let (place, kind) = line.split_once(" - ")?;
        let place = place.split(' ').nth(4)?.replace("\\040", " ");
        let kind = kind.split(' ').next()?;
        let depth = Path::new(&place).components().count();
        path.starts_with(&place).then_some((depth, kind))
    });
    mounted
        .max_by_key(|(depth, _)| *depth)
        .map(|(_, kind)| kind)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: &str = "\
        22 1 0:20 / / rw,relatime shared:1 - ext4 /dev/sda1 rw\n\
        30 22 0:41 / /mnt/class rw - nfs4 server:/class rw\n\
        31 30 0:42 / /mnt/class/own rw - ext4 /dev/sdb1 rw\n\
        32 22 0:43 / /home/a\\040b/yard rw - fuse.sshfs u@h:/ rw\n\
        33 22 0:44 / /mnt/stack rw - ext4 /dev/sdc1 rw\n\
        34 22 0:45 / /mnt/stack rw - cifs //s/x rw\n";

    #[test]
    fn the_innermost_and_last_mount_counts() {
        let kind = |path: &str| file_system(TABLE, Path::new(path)).unwrap();
        assert_eq!(kind("/home/x/records.sqlite"), "ext4");
        assert_eq!(kind("/mnt/class/records.sqlite"), "nfs4");
        assert_eq!(kind("/mnt/classroom/records.sqlite"), "ext4");
        assert_eq!(kind("/mnt/class/own/records.sqlite"), "ext4");
        assert_eq!(kind("/home/a b/yard/records.sqlite"), "fuse.sshfs");
        assert_eq!(kind("/mnt/stack/records.sqlite"), "cifs");
        assert!(is_networked("fuse.sshfs") && is_networked("cifs") && !is_networked("ext4"));
        assert_eq!(file_system("nonsense\n", Path::new("/x")), None);
    }

    #[test]
    fn the_folder_of_a_test_is_of_this_machine() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("not/yet/there.sqlite");
        assert!(whole(&path).ends_with("not/yet/there.sqlite"));
        assert_eq!(Disk::of(&path), Disk::Own);
    }
}
