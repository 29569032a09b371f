//! Two states of a farm to what changed between them: amounts, nutrients, doses, cost and work.
