//! What the server is given of the world: folders, texts, the day, and whether a process still lives.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::civil::Date;
use trug_model::Texts;

/// The texts of a folder by their names below the root, each with a mark that is another once the text is.
pub type Listed = BTreeMap<String, u64>;

/// Everything outside the protocol.
pub trait World: Send + Sync + 'static {
    /// The path without links and `..`, as far as it exists.
    fn canonical(&self, path: &Path) -> PathBuf;

    /// The folder that names of what is in `folder` are relative to.
    fn root_of(&self, folder: &Path) -> PathBuf;

    /// The texts below a root, by name.
    fn texts(&self, root: &Path) -> Arc<dyn Texts + Send + Sync>;

    /// The texts in a folder below a root; what the folder itself says is left out is not among them.
    fn list(&self, root: &Path, folder: &Path) -> Listed;

    /// The mark of one text; none where there is no such file.
    fn mark(&self, root: &Path, name: &str) -> Option<u64>;

    /// The day.
    fn today(&self) -> Date;

    /// Whether texts outside the root may be used.
    fn may_leave_root(&self) -> bool;

    /// Says, whenever it is asked, whether the process that now has this number still lives.
    fn watch(&self, process: u32) -> Box<dyn FnMut() -> bool + Send>;
}
