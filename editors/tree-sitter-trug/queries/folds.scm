(item) @fold
(unread_item) @fold
