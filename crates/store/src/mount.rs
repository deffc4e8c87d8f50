//! Whether a folder lies on another machine. The database's locks and shared memory are not to be trusted there.

use std::path::{Path, PathBuf};

/// File systems that fetch their bytes over a network, as Linux names them in `/proc/self/mountinfo` (proc(5)).
const REMOTE: [&str; 13] = [
    "nfs",
    "nfs3",
    "nfs4",
    "cifs",
    "smb2",
    "smb3",
    "smbfs",
    "ncpfs",
    "afs",
    "ceph",
    "lustre",
    "davfs",
    "glusterfs",
];

/// Endings of `fuse.` names that stand for another machine: fuse alone says nothing, since local disks use it too.
const REMOTE_FUSE: [&str; 10] =
    ["ssh", "smb", "dav", "nfs", "ftp", "s3", "gluster", "ceph", "rclone", "gvfsd"];

/// The type of the file system that holds `folder`, if it is a remote one. `folder` is absolute and resolved;
/// `mount_table` is the text of `/proc/self/mountinfo`.
pub(crate) fn remote_file_system(folder: &Path, mount_table: &str) -> Option<String> {
    let held_by = mount_table
        .lines()
        .filter_map(mount)
        .filter(|(point, _)| folder.starts_with(point))
        // Of two mounts on one point the later line hides the earlier: `max_by_key` takes the last of equals.
        .max_by_key(|(point, _)| point.components().count())?;
    is_remote(&held_by.1).then_some(held_by.1)
}

/// Mount point and file system type of one line: the fifth field, and the first after the lone hyphen.
fn mount(line: &str) -> Option<(PathBuf, String)> {
    let (before, after) = line.split_once(" - ")?;
    let point = before.split(' ').nth(4)?;
    let file_system = after.split(' ').next()?;
    Some((PathBuf::from(unescape(point)), file_system.to_owned()))
}

fn is_remote(file_system: &str) -> bool {
    match file_system.strip_prefix("fuse.") {
        Some(name) => REMOTE_FUSE.iter().any(|remote| name.contains(remote)),
        None => REMOTE.contains(&file_system),
    }
}

/// The table writes space, tab, line feed and backslash as a backslash and three octal digits.
fn unescape(field: &str) -> String {
    [("\\040", " "), ("\\011", "\t"), ("\\012", "\n"), ("\\134", "\\")]
        .iter()
        .fold(field.to_owned(), |text, (code, sign)| text.replace(code, sign))
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: &str = "\
22 1 8:2 / / rw,relatime shared:1 - ext4 /dev/sda2 rw
40 22 0:35 / /home/bench/far\\040away rw,relatime - nfs4 server:/export rw
41 22 0:36 / /mnt/house rw,relatime shared:5 - cifs //box/share rw
42 22 0:37 / /mnt/house/inner rw,relatime - ext4 /dev/sdb1 rw
43 22 0:38 / /run/far rw - fuse.sshfs someone@somewhere: rw
44 22 0:39 / /mnt/stick rw - fuseblk /dev/sdc1 rw
45 22 0:40 / /mnt/hidden rw - nfs server:/a rw
46 22 0:41 / /mnt/hidden rw - tmpfs tmpfs rw";

    #[test]
    fn the_longest_mount_point_decides() {
        let on = |folder: &str| remote_file_system(Path::new(folder), TABLE);
        assert_eq!(on("/home/bench/workshop"), None);
        assert_eq!(on("/home/bench/far away/workshop").as_deref(), Some("nfs4"));
        assert_eq!(on("/mnt/house/workshop").as_deref(), Some("cifs"));
        assert_eq!(on("/mnt/house/inner/workshop"), None);
        assert_eq!(on("/mnt/household"), None);
        assert_eq!(on("/run/far/workshop").as_deref(), Some("fuse.sshfs"));
        assert_eq!(on("/mnt/stick/workshop"), None);
        assert_eq!(on("/mnt/hidden/workshop"), None);
    }

    #[test]
    fn a_table_that_cannot_be_read_tells_nothing() {
        assert_eq!(remote_file_system(Path::new("/home"), ""), None);
        assert_eq!(remote_file_system(Path::new("/home"), "nonsense\n - - -"), None);
    }
}
