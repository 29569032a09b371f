(item) @class.around
(comment)+ @comment.around
