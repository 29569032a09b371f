-- The language server. `vim.lsp.enable('trug')` starts it; `vim.lsp.config('trug', { … })` changes what stands here.

local trug = require('trug')

---@type vim.lsp.Config
return {
  cmd = { 'trug', 'lsp' },
  filetypes = { 'trug' },
  -- Whichever is nearer, as the tool itself finds the root of a farm.
  root_markers = { { 'trug.root', '.git' } },
  -- What the lenses above a ration do when they are run.
  commands = {
    ['trug.plan'] = function(command)
      trug.show('trug.plan', command.arguments[1], command.arguments[2])
    end,
    ['trug.analyse'] = function(command)
      trug.show('trug.analyse', command.arguments[1], command.arguments[2])
    end,
    ['trug.balance'] = function(command)
      trug.show('trug.balance', command.arguments[1], command.arguments[2])
    end,
    ['trug.used'] = function(command, context)
      trug.list_uses(command, context.client_id)
    end,
  },
  handlers = {
    ['trug/planChanged'] = function(_, params)
      trug.refresh(params.uri)
    end,
  },
  on_attach = function(client, buffer)
    if client:supports_method('textDocument/inlayHint') then
      vim.lsp.inlay_hint.enable(true, { bufnr = buffer })
    end
  end,
}
