; Every word once, so that no order of precedence matters.

(item_word) @keyword
(declared_name) @function
(line_word) @property
(word) @keyword.operator
(name) @variable
(code) @constant
(number) @number
(date) @number
(unit) @type
(text) @string
(comment) @comment
(operator) @operator
