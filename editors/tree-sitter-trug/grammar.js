/**
 * The rations language, line by line: whatever a line says, it ends with its line.
 *
 * `grammar/trug.pest` is the form of the language; this grammar takes any line, and marks its words as the form does
 * where the line is of the form. What opens an item, what opens a line and what joins the rest are told apart; a test
 * holds the three lists to the language's own.
 */

// Letters, marks and digits of any script; hyphens and joiners inside.
const START = 'A-Za-z\\p{L}';
const PART = 'A-Za-z0-9\\p{L}\\p{M}\\p{Nd}';
const NAME = `[${START}](?:[${PART}]|[\\-\\u200c\\u200d]+[${PART}])*`;
const UNIT = `(?:%|\\uff05|${NAME}\\u00b3?)`;
const BLANKS = ' \\t\\v\\f\\u0085\\u00a0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000';
const QUOTES = '\\u201c\\u201d\\u201e\\u201f\\u00ab\\u00bb';

/** Words that open an item which declares a name. `group` is one too; its lines may be a count of animals. */
const ITEMS = [
  'unit',
  'animal',
  'nutrient',
  'ingredient',
  'lot',
  'targets',
  'ration',
  'scale',
  'vessel',
  'method',
  'record',
];

/** Words that open a line and are followed by a name. */
const LINES_OF_NAMES = [
  ['gives'],
  ['label'],
  ['form'],
  ['apart', 'from'],
  ['never', 'with', 'for'],
  ['meets'],
  ['beside'],
  ['limit'],
  ['drop'],
  ['replace'],
  ['in'],
  ['eats'],
  ['weighed'],
  ['sampled'],
  ['fed', 'to'],
];

/** Words that open a line and are followed by anything else. */
const LINES = [
  ['dry-matter'],
  ['price'],
  ['bulk-density'],
  ['sold', 'in'],
  ['at', 'most', 'least'],
  ['nothing', 'else'],
  ['particle-size'],
  ['particle-density'],
  ['dose'],
  ['ceiling'],
  ['withdrawal'],
  ['caution'],
  ['source'],
  ['unverified'],
  ['received'],
  ['best', 'before'],
  ['on', 'hand'],
  ['batch'],
  ['intake'],
  ['keeps'],
  ['certainty'],
  ['pre-blend'],
  ['step'],
  ['weigh'],
  ['even'],
  ['floor'],
  ['lift'],
  ['portions'],
  ['placed', 'on'],
  ['made'],
];

/** Words that join the parts of a line, and stand alone. */
const JOINS = [
  'rest',
  'giving',
  'parts',
  'part',
  'law',
  'harm',
  'small',
  'bulk',
  'within',
  'until',
  'by',
  'minimum',
  'assay',
  'mixing',
  'source',
  'unverified',
];

/** Words that join a day: of the calendar, or of an age behind `day`. */
const JOINS_DAY = ['from', 'to'];

/** Words that join a name. */
const JOINS_NAME = ['for', 'like', 'is', 'with', 'lot', 'class'];

module.exports = grammar({
  name: 'trug',

  word: ($) => $.name,

  externals: ($) => [$._item_start, $._margin, $._indent, $._line_end],

  extras: ($) => [new RegExp(`[${BLANKS}\\r\\n]`), $.comment],

  rules: {
    file: ($) => seq(repeat($.line), repeat(choice($.item, $.unread_item))),

    item: ($) =>
      choice(
        seq($._item_start, $._header, $._line_end, repeat($.line)),
        seq(
          $._item_start,
          $._group_header,
          $._line_end,
          repeat(choice($.line, alias($.count_line, $.line))),
        ),
      ),

    // A line at the margin that opens no item: a misspelt keyword. It keeps its lines.
    unread_item: ($) => seq($._margin, $._first, repeat($._part), $._line_end, repeat($.line)),

    _header: ($) =>
      choice(
        seq(field('keyword', alias('use', $.item_word)), optional($._book), repeat($._part)),
        seq(field('keyword', alias('rate', $.item_word)), repeat($._part)),
        seq(field('keyword', alias($._item, $.item_word)), optional($._declared)),
      ),
    _group_header: ($) => seq(field('keyword', alias('group', $.item_word)), optional($._declared)),
    _item: () => choice(...ITEMS),
    _book: ($) => prec.right(seq(alias('book', $.word), optional($._any_name))),
    // No word of the language is looked for here: what an item declares is a name, be it `rest`.
    _declared: ($) => seq(choice(field('name', alias($.name, $.declared_name)), $._sign), repeat($._part)),

    line: ($) =>
      seq(
        $._indent,
        choice(
          seq(alias($._line_of_name, $.line_word), optional(seq(choice($._any_name, $._sign), repeat($._part)))),
          seq(alias('for', $.line_word), optional(seq($._mixing_or_name, repeat($._part)))),
          seq(alias('accept', $.line_word), optional($.code), repeat($._part)),
          seq(alias('mix', $.line_word), repeat($._part)),
          seq(alias($._mix_by, $.line_word), optional(seq(choice($._any_name, $._sign), repeat($._part)))),
          seq(alias($._mix_for, $.line_word), repeat($._part)),
          seq(alias('small', $.line_word), optional(alias('below', $.word)), repeat($._part)),
          seq(alias('turn', $.line_word), optional($._turns), repeat($._part)),
          seq(alias($._line, $.line_word), repeat($._part)),
          seq($._first, repeat($._part)),
        ),
        $._line_end,
      ),
    _line_of_name: () => prec.right(words(LINES_OF_NAMES)),
    _line: () => prec.right(words(LINES)),
    _mix_by: () => prec(1, seq('mix', 'by')),
    _mix_for: () => prec(1, seq('mix', 'for')),
    _mixing_or_name: ($) => choice(alias('mixing', $.word), $.name, $._sign),
    _turns: ($) => seq($.number, alias(choice('times', 'time'), $.word)),

    // How many animals: the one line where a word after a number is no unit.
    count_line: ($) => prec(1, seq($._indent, $.number, $.name, repeat($._part), $._line_end)),

    _first: ($) => choice($.name, $._sign),
    _part: ($) => choice($.name, $._sign, $._join),

    // Whatever is no word.
    _sign: ($) => choice($.text, $._amount, $._sum, alias($._mark, $.operator), $.date, $.other),

    _amount: ($) => prec.right(seq($.number, optional($.unit))),
    unit: ($) =>
      prec.right(
        seq(
          // These may name a unit, as far as the form goes; other words of the language may not.
          choice(alias($.name, 'word'), 'rest', 'giving', 'with', 'mixing', '%', '\uff05'),
          optional(token.immediate(prec(2, new RegExp(`\\u00b3|\\u00b3?/${UNIT}`)))),
        ),
      ),

    // Behind these stands a name, even where it is spelt like a word of the language.
    _sum: ($) =>
      prec.right(
        seq(alias(choice('+', '-', '\u2212', '\u2013', '*', '\u00d7', '/', '(', '='), $.operator), optional($._any_name)),
      ),
    _mark: () => choice(')', '..', '\u2026', '\u00b1', '+-', '+/-'),

    _join: ($) =>
      prec.right(
        choice(
          alias($._joins, $.word),
          seq(alias(choice(...JOINS_DAY), $.word), optional(alias('day', $.word))),
          seq(alias(choice(...JOINS_NAME), $.word), optional($._any_name)),
          seq(alias('of', $.word), optional(choice($._dry_matter, $._any_name, alias('dry', $.name)))),
          seq(alias('as', $.word), optional(alias(choice('fed', 'of'), $.word))),
          seq(alias('at', $.word), optional(choice(alias(choice('most', 'least', 'day'), $.word), $._at_dry_matter))),
          seq(alias('or', $.word), optional(alias('none', $.word))),
          seq(alias('on', $.word), optional(alias('top', $.word))),
          seq(alias('not', $.word), optional(alias('carrier', $.word))),
          seq(alias('in', $.word), optional($.unit)),
          seq(alias('per', $.word), optional($.unit)),
          seq(alias('accept', $.word), optional($.code)),
        ),
      ),
    _joins: () => choice(...JOINS),
    _dry_matter: ($) => choice(alias('dry-matter', $.word), seq(alias('dry', $.word), alias('matter', $.word))),
    // Whatever of it is not there: a line ends where it ends.
    _at_dry_matter: ($) => prec.right(seq($.number, optional(seq($.unit, optional($._dry_matter))))),

    _any_name: ($) => choice($.name, alias($._reserved, $.name)),
    _reserved: () =>
      choice(
        ...new Set([...JOINS, ...JOINS_DAY, ...JOINS_NAME, 'of', 'as', 'at', 'or', 'on', 'not', 'in', 'per', 'accept']),
      ),

    name: () => new RegExp(NAME),
    number: () => /[+\-\u2212\u2013]?[0-9]+(\.[0-9]+)?/,
    date: () => /[0-9]{4}-[0-9]{2}-[0-9]{2}/,
    code: () => /[a-z]+\/[a-z]+(-[a-z]+)*/,
    text: () => choice(/"([^"\r\n]|"")*"/, new RegExp(`[${QUOTES}][^${QUOTES}\\r\\n]*[${QUOTES}]`)),
    comment: () => /#[^\r\n]*/,
    // Whatever else stands in a line, one character at a time, so that no line spoils the next.
    other: () => token(prec(-1, new RegExp(`[^${BLANKS}\\r\\n#]`))),
  },
});

/** Each list is a word and what may follow it as the second word of the two that open a line. */
function words(lists) {
  return choice(...lists.map(([first, ...seconds]) => (seconds.length ? seq(first, optional(choice(...seconds))) : first)));
}
