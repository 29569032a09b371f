//! Other texts of the farm as candidates, the nearest first. A farm may have ten thousand: no more are looked at closely
//! than are offered.

use trug_findings::Source;

use super::{CandidateKind, MOST, Offer, Offers, holds_letters};
use crate::paths::relative;

impl Offers<'_> {
    pub(super) fn paths(&mut self, group: usize) {
        let sources = self.view.farm().sources();
        let Some(own) = sources.get(self.file.index()).map(Source::name) else {
            return;
        };
        let in_quotes = self.place.quoted.is_some();
        let written = self
            .place
            .quoted
            .unwrap_or(self.place.word)
            .of(self.text)
            .to_lowercase();
        let written = written.trim_start_matches(['.', '/', '"']);
        let mut near: Vec<&str> = Vec::new();
        // Texts lie in the order of their names, so a folder is one stretch of them, and so is what is around it.
        let (mut start, mut end) = (sources.len(), 0);
        let mut folder = own;
        while near.len() <= MOST {
            folder = folder.rsplit_once('/').map_or("", |(above, _)| above);
            let inside = |name: &str| {
                folder.is_empty()
                    || name
                        .strip_prefix(folder)
                        .is_some_and(|rest| rest.starts_with('/'))
            };
            let from = sources.partition_point(|source| source.name() < folder);
            let mut rank = from;
            while let Some(source) = sources.get(rank).filter(|_| near.len() <= MOST) {
                let name = source.name();
                if rank == start && start < end {
                    rank = end;
                    continue;
                }
                // Between a folder's name and what it holds stand names such as `folder-2`.
                if !inside(name) && !name.starts_with(folder) {
                    break;
                }
                let is_wanted = inside(name) && name != own && !name.starts_with("book:");
                if is_wanted && holds_letters(name, written) {
                    near.push(name);
                }
                rank += 1;
            }
            (start, end) = (from, rank);
            if folder.is_empty() {
                break;
            }
        }
        for (rank, name) in near.into_iter().enumerate() {
            let path = relative(own, name);
            let typed = if in_quotes {
                path.clone()
            } else {
                format!("\"{path}\"")
            };
            let offer = Offer::new(typed, CandidateKind::Text).about("text", &path);
            let far = path.matches('/').count().min(9);
            self.push(
                group + far,
                Offer {
                    filter: path,
                    ..offer
                },
            );
            if rank > MOST {
                return;
            }
        }
    }
}
