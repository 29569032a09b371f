/* Where lines start and end. The tokens are empty: they stand before a line that opens an item, before any other at the
 * margin, before any other that is indented, and behind a line. A line ends in LF, CRLF, a lone CR, or with the text. */

#include <string.h>

#include "tree_sitter/parser.h"

enum Token { ITEM_START, MARGIN, INDENT, LINE_END };

/* The words that open an item, also where they are indented. */
static const char *const ITEMS[] = {
    "use",    "unit",  "rate",   "animal", "nutrient", "ingredient", "lot",
    "targets", "ration", "scale", "vessel", "method",   "group",      "record",
};
enum { ITEM_COUNT = sizeof ITEMS / sizeof *ITEMS, LONGEST = 16 };

static bool is_line_end(int32_t character) { return character == '\n' || character == '\r'; }

static bool is_blank(int32_t character) {
  switch (character) {
    case ' ':
    case '\t':
    case '\v':
    case '\f':
    case 0x85:
    case 0xa0:
    case 0x1680:
    case 0x2028:
    case 0x2029:
    case 0x202f:
    case 0x205f:
    case 0x3000:
      return true;
    default:
      return character >= 0x2000 && character <= 0x200a;
  }
}

/* What may stand in a name; of letters above ASCII it is enough to know that they are no blanks. */
static bool is_of_name(int32_t character) {
  return (character >= 'a' && character <= 'z') || (character >= 'A' && character <= 'Z') ||
         (character >= '0' && character <= '9') || character == '-' || (character >= 0x80 && !is_blank(character));
}

static bool opens_item(TSLexer *lexer) {
  char word[LONGEST + 1] = "";
  for (unsigned length = 0; is_of_name(lexer->lookahead); length++) {
    if (length == LONGEST || lexer->lookahead >= 0x80) return false;
    word[length] = (char)lexer->lookahead;
    lexer->advance(lexer, false);
  }
  for (unsigned rank = 0; rank < ITEM_COUNT; rank++) {
    if (strcmp(word, ITEMS[rank]) == 0) return true;
  }
  return false;
}

static bool scan_line_end(TSLexer *lexer) {
  while (is_blank(lexer->lookahead)) lexer->advance(lexer, true);
  if (!is_line_end(lexer->lookahead) && !lexer->eof(lexer)) return false;
  lexer->result_symbol = LINE_END;
  return true;
}

/* Lines that say nothing are passed over; a comment is left to the lexer, which comes back here behind it. */
static bool scan_line_start(TSLexer *lexer) {
  bool is_indented = false;
  for (;;) {
    if (is_line_end(lexer->lookahead)) {
      is_indented = false;
    } else if (is_blank(lexer->lookahead)) {
      is_indented = true;
    } else {
      break;
    }
    lexer->advance(lexer, true);
  }
  if (lexer->eof(lexer) || lexer->lookahead == '#') return false;
  lexer->mark_end(lexer);
  lexer->result_symbol = opens_item(lexer) ? ITEM_START : is_indented ? INDENT : MARGIN;
  return true;
}

void *tree_sitter_trug_external_scanner_create(void) { return NULL; }

void tree_sitter_trug_external_scanner_destroy(void *payload) { (void)payload; }

unsigned tree_sitter_trug_external_scanner_serialize(void *payload, char *buffer) {
  (void)payload;
  (void)buffer;
  return 0;
}

void tree_sitter_trug_external_scanner_deserialize(void *payload, const char *buffer, unsigned length) {
  (void)payload;
  (void)buffer;
  (void)length;
}

bool tree_sitter_trug_external_scanner_scan(void *payload, TSLexer *lexer, const bool *valid_symbols) {
  (void)payload;
  /* All are valid only where the parser looks for a way on after a fault: then the next line is one. */
  if (valid_symbols[LINE_END]) return scan_line_end(lexer);
  if (valid_symbols[ITEM_START] || valid_symbols[INDENT]) return scan_line_start(lexer);
  return false;
}
