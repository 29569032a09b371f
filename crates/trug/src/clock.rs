//! The day it is where the tool runs, by the system's clock and zone.

use std::ffi::OsStr;
use std::path::Path;
use std::time::SystemTime;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Where the system keeps the rules of the time where it stands.
const LOCAL_TIME: &str = "/etc/localtime";

/// The day where the tool runs.
pub(crate) fn day() -> Date {
    now().to_zoned_datetime(zone()).date()
}

/// A clock that is set before the first day that can be written, or after the last, stands at that day.
fn now() -> Timestamp {
    let now = SystemTime::now();
    Timestamp::try_from(now).unwrap_or(if now < SystemTime::UNIX_EPOCH {
        Timestamp::MIN
    } else {
        Timestamp::MAX
    })
}

/// The zone that is said in the environment, else the system's.
///
/// The system's own zone is read without its name: to look that up, the names of all zones of the world would be read from the disk,
/// which takes longer than a small farm.
fn zone() -> TimeZone {
    match std::env::var_os("TZ") {
        Some(said) if is_endless(&said) => TimeZone::UTC,
        Some(_) => TimeZone::system(),
        None => {
            let rules = std::fs::read(LOCAL_TIME).ok();
            let zone = rules.and_then(|rules| TimeZone::tzif("local", &rules).ok());
            zone.unwrap_or_else(TimeZone::system)
        }
    }
}

/// Whether a zone is said by the path of a pipe or a device, which may never end.
fn is_endless(said: &OsStr) -> bool {
    let Some(said) = said.to_str() else {
        return false;
    };
    let path = Path::new(said.strip_prefix(':').unwrap_or(said));
    path.metadata()
        .is_ok_and(|metadata| !metadata.is_file() && !metadata.is_dir())
}
