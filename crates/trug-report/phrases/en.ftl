# The fixed words of the sheet, in English: the language of the project, and the one taken where another lacks a phrase.
# Numbers and masses come in written out; a { $count } is a whole number.

## Numbers and days

range = { $low } to { $high }
at-least = at least { $value }
at-most = at most { $value }
list-next = { $most }, { $next }
list-last = { $most } and { $last }
date = { $day } { $month } { $year }
month = { $month ->
    [1] January
    [2] February
    [3] March
    [4] April
    [5] May
    [6] June
    [7] July
    [8] August
    [9] September
    [10] October
    [11] November
   *[12] December
}
days = { $count ->
    [one] { $count } day
   *[other] { $count } days
}

## The head of a sheet

fact-mass = mass
fact-batch = this batch
fact-ordered = ordered
fact-group = for
fact-animal = animals
fact-day = day
fact-written = written
mass-in-batches = { $total }: { $count } batches of { $each }
batch-of = batch { $number } of { $count }
batches-of = batches { $first } to { $last } of { $count }
times-over = { $heading }, { $count } times over
draft = DRAFT
draft-asked = Not to be mixed as it is: it was asked for as one.
draft-errors = Not to be mixed as it is: { $count ->
    [one] { $count } error
   *[other] { $count } errors
} under FOUND.
defers = Product label, veterinarian and local feed law decide what is fed. This plan only says how to weigh and mix it.

## What to beware of

beware = BEWARE
not-a-feed = NOT A FEED
hazard-not-a-feed = NOT A FEED: { $ration } is mixed into other rations and is never fed as it is.
hazard-no-animal = { $ration } names no animal: harm and law were not judged.
hazard-medicated = Medicated: mix it last of the day. Before any other feed, clean floor, vessels and tools, and flush them with plain bulk that only the same animals get, or nobody.
product-eggs = eggs
product-milk = milk
product-meat = meat
hazard-withdrawal = Medicated: no { $product } for people until { $days } after the last feed. Label, veterinarian and local law decide.
hazard-keep-from = Keep from { $animal }.
hazard-in = { $ingredient }: { $hazard }

## The order of the day

day-order = ORDER OF THE DAY
day-sheet = sheet
day-what = what is mixed
day-mass = how much
day-see-to = see to
day-clean = Medicated: clean and flush afterwards.
day-not-a-feed = Not a feed: for mixing only.

## The weighing table

weigh = WEIGH, in the order of work
column-what = what
column-lot = lot
column-mass = how much
column-scale = scale
column-range = may read
column-done = done
column-actual = weighed
for-step = for step { $step }
no-scale = none
together = together
on-top = { $ingredient }, on top
in-loads = in { $count } loads: { $loads }; add up what they read
loads-alike = { $count } of { $mass }
in-parts = { $ingredient }: { $parts } = { $whole }

## The steps

mix = MIX
mass-of = { $mass } { $what }
the-mix = the mix of step { $step } ({ $mass })
the-preblend = the pre-blend of step { $step } ({ $mass })
the-heap = the heap of step { $step } ({ $mass })
in-one = in one { $vessel }
in-the = in the { $vessel }
on-floor = on the floor
put = Put { $what } { $where }.
heap = Heap { $what } { $where }.
heap-in-order = Heap { $what } { $where }, in this order.
work-in = Work { $what } into it.
lay-out = Lay out { $what } { $where }.
sprinkle = Sprinkle { $what } over it.
sprinkle-in-portions = Sprinkle { $what } over it in { $count ->
    [one] { $count } portion
   *[other] { $count } portions
}.
stir = Mix.
turn = { $count ->
    [1] Turn once.
    [one] Turn { $count } time.
   *[other] Turn { $count } times.
}
turn-until-even = Turn until it is even.
this-is-preblend = This is the pre-blend.
this-is-heap = This is the heap.
this-is-batch = This is the whole batch.
sample-heap = Take the sample: make the heap a cone, flatten it, quarter it, keep two quarters that face each other; do so again until what is left fits the sample bag.
sample-feed = Take the sample: make the feed a cone, flatten it, quarter it, keep two quarters that face each other; do so again until what is left fits the sample bag.
bag = Bag it, and tie a label to each bag: { $ration }, { $day }, batch, lots, who mixed it.
clean = Medicated: clean floor, vessels and tools before any other feed, and flush them with plain bulk that only the same animals get, or nobody.

## The picture

picture = How the batch is put together
picture-step = step { $step }
picture-floor = floor

## Totals

totals = TOTALS of one batch

## Doses

doses = DOSES, and how far they can be off (two standard deviations)
column-dose = what
column-value = planned
column-bound = allowed
column-batch = a batch
column-portion = one portion
dose-of-product = { $ingredient }, dose
dose-of-active = { $ingredient }, dose of { $active }
bound-by-law = { $what } by law
bound-by-harm = { $what }, harm beyond it
dose-allowed = allowed { $bound }
dose-batch = a batch { $range }
dose-portion = one portion { $range }

## What was found

found = FOUND
severity-error = error
severity-warning = warning
severity-note = note
accepted = accepted
reason = reason: { $text }
help = help: { $text }

## The label

label = LABEL, to cut out
label-mixed = mixed on
label-keeps = keeps until
label-keeps-value = { $date } ({ $days })
label-animals = for
label-head = { $animal }: { $head }
label-lots = lots
label-lot = { $ingredient } { $lot }
label-mixed-by = mixed by

## The page on a phone

page-mixed-by = mixed by
page-made = mixed on
page-text = Record of what was done
page-not-weighed = not weighed
page-only-ticked = ticked, no weight typed
page-copy = Copy as a record
page-copied = Copied. Paste it into a text of the farm.
page-clear = Clear ticks and weights
page-clear-sure = Clear all ticks and weights of this sheet?
page-outside = outside { $range }
page-unreadable = not a number
page-left = { "{n}" } to weigh
page-all-done = All weighed.
page-not-kept = This page cannot keep the ticks: print it, or do not close it.
page-print = Print
page-text = Record
page-not-weighed = not weighed
page-only-ticked = ticked, no weight typed
