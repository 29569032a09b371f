//! Texts for the tests.

/// Something to make rations of.
pub(crate) const STORE: &str = "ingredient maize
  price        0.30 EUR/kg
ingredient wheat-bran
  price        0.20 EUR/kg
";

/// A ration in which nothing is found.
pub(crate) const MASH: &str = "use \"store.trug\"

ration mash
  for            mixing
  batch          20 kg
  maize          60 %
  wheat-bran     40 %
";

/// The same with a line too much.
pub(crate) const OVER: &str = "use \"store.trug\"

ration mash
  for            mixing
  batch          20 kg
  maize          61 %
  wheat-bran     40 %
";
