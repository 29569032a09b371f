; As ../../../tree-sitter-trug/queries/highlights.scm, in the names that Helix's themes colour.

(item_word) @keyword
(declared_name) @function
(line_word) @variable.other.member
(word) @keyword.operator
(name) @variable
(code) @constant
(number) @constant.numeric
(date) @constant.numeric
(unit) @type
(text) @string
(comment) @comment
(operator) @operator
