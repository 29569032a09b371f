//! Which of the protocol's kinds of token each of ours is, and how tokens are written on the wire.

use trug_ide::{Token, TokenKind};

use crate::lsp::{SemanticToken, SemanticTokenModifier, SemanticTokenType, SemanticTokensLegend};
use crate::snapshot::Text;

/// The kinds, under the names that clients already have colours for.
const TYPES: [SemanticTokenType; 17] = [
    SemanticTokenType::KEYWORD,
    SemanticTokenType::PROPERTY,
    SemanticTokenType::VARIABLE,
    SemanticTokenType::FUNCTION,
    SemanticTokenType::PARAMETER,
    SemanticTokenType::CLASS,
    SemanticTokenType::INTERFACE,
    SemanticTokenType::ENUM_MEMBER,
    SemanticTokenType::STRUCT,
    SemanticTokenType::METHOD,
    SemanticTokenType::EVENT,
    SemanticTokenType::NAMESPACE,
    SemanticTokenType::NUMBER,
    SemanticTokenType::TYPE,
    SemanticTokenType::STRING,
    SemanticTokenType::COMMENT,
    SemanticTokenType::OPERATOR,
];

const DECLARATION: u32 = 1;
const OF_BOOK: u32 = 2;

/// What the client is told of them.
pub(crate) fn legend() -> SemanticTokensLegend {
    SemanticTokensLegend {
        token_types: TYPES.to_vec(),
        token_modifiers: vec![
            SemanticTokenModifier::DECLARATION,
            SemanticTokenModifier::DEFAULT_LIBRARY,
        ],
    }
}

/// Tokens as the wire has them: each told from the one before. None goes over the end of its line.
pub(crate) fn encoded(tokens: &[Token], text: &Text<'_>) -> Vec<SemanticToken> {
    let mut encoded = Vec::with_capacity(tokens.len());
    let (mut line, mut character) = (0, 0);
    for token in tokens {
        let range = text.range(token.span);
        if range.start.line != range.end.line || range.end.character <= range.start.character {
            continue;
        }
        let is_same_line = range.start.line == line;
        encoded.push(SemanticToken {
            delta_line: range.start.line - line,
            delta_start: if is_same_line {
                range.start.character - character
            } else {
                range.start.character
            },
            length: range.end.character - range.start.character,
            token_type: rank(token.kind),
            token_modifiers_bitset: if token.is_declaration { DECLARATION } else { 0 }
                | if token.is_of_book { OF_BOOK } else { 0 },
        });
        (line, character) = (range.start.line, range.start.character);
    }
    encoded
}

fn rank(kind: TokenKind) -> u32 {
    let known = TYPES.iter().position(|known| *known == of(kind));
    known.and_then(|rank| u32::try_from(rank).ok()).unwrap_or(0)
}

fn of(kind: TokenKind) -> SemanticTokenType {
    match kind {
        TokenKind::Keyword => SemanticTokenType::KEYWORD,
        TokenKind::Property => SemanticTokenType::PROPERTY,
        TokenKind::Ingredient | TokenKind::Plain => SemanticTokenType::VARIABLE,
        TokenKind::Ration => SemanticTokenType::FUNCTION,
        TokenKind::Nutrient => SemanticTokenType::PARAMETER,
        TokenKind::Animal | TokenKind::Group => SemanticTokenType::CLASS,
        TokenKind::Targets => SemanticTokenType::INTERFACE,
        TokenKind::Lot | TokenKind::Code => SemanticTokenType::ENUM_MEMBER,
        TokenKind::Scale | TokenKind::Vessel => SemanticTokenType::STRUCT,
        TokenKind::Method => SemanticTokenType::METHOD,
        TokenKind::Record => SemanticTokenType::EVENT,
        TokenKind::Book => SemanticTokenType::NAMESPACE,
        TokenKind::Number => SemanticTokenType::NUMBER,
        TokenKind::Measure | TokenKind::Unit => SemanticTokenType::TYPE,
        TokenKind::Text => SemanticTokenType::STRING,
        TokenKind::Comment => SemanticTokenType::COMMENT,
        TokenKind::Operator => SemanticTokenType::OPERATOR,
    }
}
