-- Types into a real Neovim what a user types, and reads what the user would see.
--
--   nvim --clean --headless -l editor.lua NEOVIM_FOLDER EXAMPLE_FOLDER TRUG
--
-- A second Neovim has the folder of this extension on its path and `trug lsp` as its server; keys go to it, and this
-- one looks until what is expected is there. Ends with what was seen where it is not.

local here, example, trug = _G.arg[1], _G.arg[2], _G.arg[3]
local PATIENCE = 30000

local farm = vim.fn.tempname()
local text = farm .. '/rations.trug'
local store = farm .. '/coop/store.trug'

local function read(path)
  local file = assert(io.open(path, 'rb'))
  local content = file:read('*a')
  file:close()
  return content
end

local function write(path, content)
  local file = assert(io.open(path, 'wb'))
  file:write(content)
  file:close()
end

-- The example with twice the premix that its label bears.
local function prepare()
  local copied = vim.system({ 'cp', '-R', example, farm }):wait()
  assert(copied.code == 0, copied.stderr)
  write(farm .. '/trug.root', '')
  local wrong, count = read(text):gsub('duck%-premix    2%.5 kg/t', 'duck-premix    6.0 kg/t')
  assert(count == 1, 'the example has no line to spoil')
  write(text, wrong)
end

local shim = farm .. '-bin'
local child = nil

local function start()
  -- The editor finds the tool on its path, as a user's does.
  vim.fn.mkdir(shim, 'p')
  assert(vim.uv.fs_symlink(trug, shim .. '/trug'))
  child = vim.fn.jobstart({
    vim.v.progpath, '--clean', '--embed', '--headless',
    '--cmd', 'set rtp^=' .. vim.fn.fnameescape(here),
  }, { rpc = true, cwd = farm, env = { PATH = shim .. ':' .. vim.env.PATH, XDG_STATE_HOME = shim } })
  assert(child > 0, 'no editor')
end

local function lua(code, ...)
  return vim.rpcrequest(child, 'nvim_exec_lua', code, { ... })
end

local function keys(typed)
  vim.rpcrequest(child, 'nvim_input', typed)
end

-- Looks until `probe` gives something; fails with what was seen last.
local function expect(what, probe)
  local seen = nil
  local is_there = vim.wait(PATIENCE, function()
    local found, look = probe()
    seen = look
    return found
  end, 10)
  if not is_there then
    error(('%s was not there; seen: %s'):format(what, vim.inspect(seen)), 0)
  end
  io.stdout:write('seen: ', what, '\n')
end

local function line_of(content, wanted)
  for number, line in ipairs(vim.split(content, '\n')) do
    if line:find(wanted, 1, true) then
      return number
    end
  end
  error('no line ' .. wanted)
end

local function findings()
  return lua([[
    return vim.tbl_map(function(one)
      return { code = one.code, lnum = one.lnum, col = one.col, end_col = one.end_col, severity = one.severity,
        message = one.message }
    end, vim.diagnostic.get(0))
  ]])
end

-- The finding of this code on a line, and all there are.
local function find(code, line)
  local all = findings()
  for _, one in ipairs(all) do
    if one.code == code and one.lnum == line - 1 then
      return one, all
    end
  end
  return nil, all
end

local tests = {}

function tests.file_type()
  lua([[
    vim.lsp.config('trug', { settings = { trug = { today = '2026-11-25' } } })
    vim.lsp.enable('trug')
    vim.ui.open = function(path) vim.g.opened = path end
  ]])
  keys(':edit ' .. vim.fn.fnameescape(text) .. '<CR>')
  expect('the file type, with its way to write comments', function()
    local seen = lua("return { vim.bo.filetype, vim.bo.commentstring, vim.bo.shiftwidth }")
    return vim.deep_equal(seen, { 'trug', '# %s', 2 }), seen
  end)
end

local amount = { line = nil, column = nil }

function tests.diagnostic()
  amount.line = line_of(read(text), 'duck-premix    6.0 kg/t')
  amount.column = vim.split(read(text), '\n')[amount.line]:find('6.0', 1, true)
  expect('the dose above the ceiling, at its amount', function()
    local found, all = find('harm/ceiling', amount.line)
    local is_right = found
      and found.col == amount.column - 1
      and found.end_col == amount.column - 1 + #'6.0 kg/t'
      and found.severity == vim.diagnostic.severity.ERROR
      and found.message:find('duck-premix', 1, true)
    return is_right, all
  end)
end

function tests.colours()
  expect('a name coloured by its kind', function()
    local seen = lua([[
      local tokens = vim.lsp.semantic_tokens.get_at_pos(0, ...)
      return tokens and vim.tbl_map(function(token) return token.type end, tokens)
    ]], amount.line - 1, 2)
    return type(seen) == 'table' and seen[1] == 'variable', seen
  end)
end

function tests.hints()
  expect('an inlay hint with the mass in the batch', function()
    local seen = lua([[
      return vim.tbl_map(function(hint) return { hint.inlay_hint.position.line, hint.inlay_hint.label } end,
        vim.lsp.inlay_hint.get({ bufnr = 0 }))
    ]])
    for _, hint in ipairs(seen) do
      if hint[1] == amount.line - 1 and tostring(hint[2]):find('720 g') then
        return true
      end
    end
    return false, seen
  end)
end

function tests.hover()
  keys((':call cursor(%d, %d)<CR>K'):format(amount.line, amount.column))
  expect('a hover that says what the line weighs', function()
    local seen = lua([[
      for _, window in ipairs(vim.api.nvim_list_wins()) do
        if vim.api.nvim_win_get_config(window).relative ~= '' then
          return table.concat(vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(window), 0, -1, false), '\n')
        end
      end
    ]])
    return type(seen) == 'string' and seen:find('720 g', 1, true) ~= nil, seen
  end)
  keys('<Esc>:fclose<CR>')
end

function tests.completion()
  keys((':call cursor(%d, 1)<CR>omola<C-x><C-o>'):format(amount.line))
  expect('an ingredient of the store offered for the letters typed', function()
    local seen = lua("return vim.fn.complete_info({ 'mode', 'items' })")
    local words = vim.tbl_map(function(item)
      return item.word
    end, seen.items or {})
    for _, word in ipairs(words) do
      if word:find('molasses', 1, true) then
        return true
      end
    end
    return false, words
  end)
  keys('<C-e><Esc>u')
  expect('the text as it was before', function()
    local seen = lua("return table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), '\\n') .. '\\n'")
    return seen == read(text), seen
  end)
end

function tests.plan()
  keys((':call cursor(%d, 1)<CR>:TrugPlan<CR>'):format(amount.line))
  expect('the page of a ration that cannot be planned, which says why', function()
    local path = lua("return vim.g.opened")
    local page = type(path) == 'string' and read(path) or ''
    return page:find('duck-premix', 1, true) ~= nil, page:sub(1, 300)
  end)
end

function tests.lenses()
  lua([[
    vim.g.opened = nil
    vim.lsp.codelens.refresh({ bufnr = 0 })
  ]])
  expect('lenses above the rations', function()
    local seen = lua([[
      return vim.tbl_map(function(lens) return lens.command and lens.command.command or '' end,
        vim.lsp.codelens.get(0))
    ]])
    return vim.list_contains(seen, 'trug.plan') and vim.list_contains(seen, 'trug.used'), seen
  end)
  local run = [[
    for _, lens in ipairs(vim.lsp.codelens.get(0)) do
      if lens.command.command == ... then
        return vim.lsp.get_clients({ name = 'trug' })[1]:exec_cmd(lens.command, { bufnr = vim.api.nvim_get_current_buf() })
      end
    end
  ]]
  lua(run, 'trug.plan')
  expect('the page that the lens of a plan opens', function()
    local path = lua('return vim.g.opened')
    return type(path) == 'string' and read(path):find('<html', 1, true) ~= nil, path
  end)
  lua(run, 'trug.used')
  expect('the places that the lens of the uses lists', function()
    local seen = lua('return vim.fn.getloclist(0)')
    return #seen > 0, seen
  end)
  keys(':lclose<CR>')
end

function tests.why()
  keys((':call cursor(%d, 1)<CR>:TrugWhy<CR>'):format(amount.line))
  expect('the page of the finding on the line', function()
    local seen = lua('return { vim.bo.filetype, vim.fn.getline(1) }')
    return vim.deep_equal(seen, { 'markdown', '# harm/ceiling' }), seen
  end)
  keys(':close<CR>')
end

function tests.rename()
  keys((':call cursor(%d, 3)<CR>grn'):format(amount.line))
  expect('the question for a new name, with the old one', function()
    local seen = vim.rpcrequest(child, 'nvim_call_function', 'getcmdline', {})
    return seen == 'duck-premix', seen
  end)
  keys('<C-u>river-premix<CR>')
  expect('the new name in the ration and in the store', function()
    local seen = lua([[
      return vim.tbl_map(function(path)
        local buffer = vim.fn.bufnr(path)
        local lines = buffer > 0 and vim.api.nvim_buf_get_lines(buffer, 0, -1, false) or {}
        return #vim.tbl_filter(function(line) return line:find('^%s*[a-z]*%s*river%-premix') end, lines)
      end, ...)
    ]], { text, store })
    return seen[1] >= 1 and seen[2] >= 1, seen
  end)
  keys(':wall<CR>')
  expect('the old name in no file of the farm', function()
    local seen = vim.system({ 'grep', '-rnw', 'duck-premix', farm, '--include=*.trug' }):wait().stdout
    return not seen:find('[^%w-]duck%-premix[^%w-]'), seen
  end)
  expect('the finding under the new name', function()
    local found, all = find('harm/ceiling', amount.line)
    return found and found.message:find('river-premix', 1, true) ~= nil, all
  end)
end

function tests.mended()
  keys((':call cursor(%d, %d)<CR>cW2.5<Esc>'):format(amount.line, vim.fn.stridx(
    lua('return vim.fn.getline(...)', amount.line), '6.0') + 1))
  expect('no error once the amount is right', function()
    local seen = findings()
    return #vim.tbl_filter(function(one)
      return one.severity == vim.diagnostic.severity.ERROR
    end, seen) == 0, seen
  end)
  expect('the page drawn again with the plan', function()
    local page = read(lua("return vim.g.opened"))
    return page:find('<svg', 1, true) ~= nil, page:sub(1, 300)
  end)
end

function tests.book()
  keys(':edit trug:/book/poultry.trug<CR>')
  expect('a bundled book', function()
    local seen = lua("return { vim.bo.filetype, vim.bo.modifiable, vim.api.nvim_buf_line_count(0) > 20 }")
    return vim.deep_equal(seen, { 'trug', false, true }), seen
  end)
end

local order = {
  'file_type', 'diagnostic', 'colours', 'hints', 'hover', 'completion', 'plan', 'lenses', 'why', 'rename', 'mended', 'book',
}

local function run()
  prepare()
  start()
  for _, name in ipairs(order) do
    tests[name]()
  end
  -- Told, not asked: it may be gone before it answers.
  vim.rpcnotify(child, 'nvim_input', ':qall!<CR>')
  local ended = vim.fn.jobwait({ child }, PATIENCE)[1]
  assert(ended == 0, 'the editor ended with ' .. ended)
end

local is_right, failure = xpcall(run, function(failure)
  return tostring(failure)
end)
if not is_right then
  io.stderr:write('Neovim: ', failure, '\n')
  if child and child > 0 then
    vim.fn.jobstop(child)
  end
end
vim.fn.delete(farm, 'rf')
vim.fn.delete(shim, 'rf')
os.exit(is_right and 0 or 1)
