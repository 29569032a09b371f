-- Bundled books and the pages of findings have no file: the server gives their texts by their address.

vim.api.nvim_create_autocmd('BufReadCmd', {
  group = vim.api.nvim_create_augroup('trug', {}),
  pattern = 'trug:/*',
  desc = 'Read a bundled book, or the page of a finding, from the language server',
  callback = function(event)
    require('trug').read(event.buf, event.match)
  end,
})
