-- Texts of trug: how comments are written, how lines are set in, and the commands of a buffer.

if vim.b.did_ftplugin then
  return
end
vim.b.did_ftplugin = 1

vim.bo.commentstring = '# %s'
vim.bo.comments = 'b:#'
-- Comments go on at the next line and are filled; a line of the language is never broken.
vim.opt_local.formatoptions:remove('t')
vim.opt_local.formatoptions:append('croql')
-- An item stands at the margin, its lines are set in by two.
vim.bo.expandtab = true
vim.bo.shiftwidth = 2
vim.bo.softtabstop = 2
vim.bo.autoindent = true
-- A name may hold hyphens: `broken-rice` is one word.
vim.opt_local.iskeyword:append('-')
vim.bo.suffixesadd = '.trug'

local function command(name, run, description)
  vim.api.nvim_buf_create_user_command(0, name, run, {
    nargs = '?',
    bang = true,
    desc = description,
    complete = function(start)
      return require('trug').rations(0, start)
    end,
  })
end

command('TrugPlan', function(arguments)
  require('trug').command('trug.plan', arguments)
end, 'Show the mixing plan of a ration; with ! of all in this text')
command('TrugAnalysis', function(arguments)
  require('trug').command('trug.analyse', arguments)
end, 'Show the analysis of a ration; with ! of all in this text')
command('TrugBalance', function(arguments)
  require('trug').command('trug.balance', arguments)
end, 'Show the cheapest open amounts of a ration; with ! of all in this text')
vim.api.nvim_buf_create_user_command(0, 'TrugWhy', function(arguments)
  require('trug').why(arguments.args)
end, { nargs = '?', desc = 'Open the page of a finding: of the one named, else of the first on this line' })

vim.b.undo_ftplugin = table.concat({
  'setlocal commentstring< comments< formatoptions< expandtab< shiftwidth< softtabstop< autoindent< iskeyword<',
  'setlocal suffixesadd<',
  'silent! delcommand -buffer TrugPlan',
  'silent! delcommand -buffer TrugAnalysis',
  'silent! delcommand -buffer TrugBalance',
  'silent! delcommand -buffer TrugWhy',
}, ' | ')
