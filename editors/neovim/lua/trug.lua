-- What the commands do: pages of plans and analyses, pages of findings, bundled books.

local M = {}

-- How long an answer is waited for, in milliseconds.
local PATIENCE = 10000

-- The pages that were shown: by text, then by command and ration.
local pages = {}

local function say(words)
  vim.notify('trug: ' .. words, vim.log.levels.WARN)
end

local function client_of(buffer)
  local clients = vim.lsp.get_clients({ name = 'trug', bufnr = buffer })
  return clients[1] or vim.lsp.get_clients({ name = 'trug' })[1]
end

-- Asks the server to run a command, and hands the answer on.
local function execute(command, arguments, take)
  local client = client_of(vim.api.nvim_get_current_buf())
  if not client then
    say("the language server does not run here: see :checkhealth vim.lsp")
    return
  end
  local params = { command = command, arguments = arguments }
  client:request('workspace/executeCommand', params, function(failure, answer)
    if failure or type(answer) ~= 'string' then
      say(failure and failure.message or (command .. ' gave nothing'))
    else
      take(answer)
    end
  end)
end

local function write(path, text)
  local file, failure = io.open(path, 'wb')
  if not file then
    say(failure)
    return false
  end
  file:write(text)
  file:close()
  return true
end

-- Writes the page that a command gives, and hands its path on.
local function draw(command, uri, ration, take)
  execute(command, { uri, ration }, function(html)
    local key = command .. ' ' .. (ration or '')
    pages[uri] = pages[uri] or {}
    local page = pages[uri][key] or { command = command, ration = ration, path = vim.fn.tempname() .. '.html' }
    pages[uri][key] = page
    if write(page.path, html) then
      take(page.path)
    end
  end)
end

--- Shows the plan or the analysis of a ration, or of all rations of the text.
---@param command 'trug.plan'|'trug.analyse'
---@param uri string
---@param ration string?
function M.show(command, uri, ration)
  if ration == vim.NIL then
    ration = nil
  end
  draw(command, uri, ration, function(path)
    local _, failure = vim.ui.open(path)
    if failure then
      say(failure .. '; the page is ' .. path)
    end
  end)
end

--- Draws the pages of a text again that were shown; a browser shows them when it is told to read them again.
---@param uri string
function M.refresh(uri)
  for _, page in pairs(pages[uri] or {}) do
    draw(page.command, uri, page.ration, function() end)
  end
end

--- The names of the rations of a buffer that start so.
---@param buffer integer
---@param start string
---@return string[]
function M.rations(buffer, start)
  local names = {}
  for _, line in ipairs(vim.api.nvim_buf_get_lines(buffer, 0, -1, false)) do
    local name = line:match('^ration%s+([^%s#"]+)')
    if name and vim.startswith(name, start) then
      table.insert(names, name)
    end
  end
  return names
end

-- The ration the cursor stands in, if it stands in one.
local function ration_at_cursor()
  for number = vim.fn.line('.'), 1, -1 do
    local line = vim.fn.getline(number)
    if line:match('^[^%s#]') then
      return line:match('^ration%s+([^%s#"]+)')
    end
  end
end

--- Runs `:TrugPlan` or `:TrugAnalysis`: of the ration named, else the one the cursor stands in, else all.
---@param command 'trug.plan'|'trug.analyse'
---@param arguments vim.api.keyset.create_user_command.command_args
function M.command(command, arguments)
  local ration = arguments.args ~= '' and arguments.args or nil
  if not ration and not arguments.bang then
    ration = ration_at_cursor()
  end
  M.show(command, vim.uri_from_bufnr(0), ration)
end

--- Opens the page of a finding.
---@param code string Empty for the first finding on the line of the cursor.
function M.why(code)
  if code == '' then
    local found = vim.diagnostic.get(0, { lnum = vim.fn.line('.') - 1 })
    code = found[1] and found[1].code
  end
  if code then
    vim.cmd.split({ args = { vim.fn.fnameescape('trug:/why/' .. code .. '.md') } })
  else
    say('there is no finding on this line')
  end
end

--- Lists the places a lens speaks of.
---@param command lsp.Command
---@param client_id integer
function M.list_uses(command, client_id)
  local client = vim.lsp.get_client_by_id(client_id)
  if client then
    local items = vim.lsp.util.locations_to_items(command.arguments[3] or {}, client.offset_encoding)
    if #items == 0 then
      say(command.title)
      return
    end
    vim.fn.setloclist(0, {}, ' ', { title = command.title, items = items })
    vim.cmd.lopen()
  end
end

--- Fills a buffer with the text at an address of the scheme `trug`.
---@param buffer integer
---@param uri string
function M.read(buffer, uri)
  local client = client_of(buffer)
  local answer = client and client:request_sync('workspace/textDocumentContent', { uri = uri }, PATIENCE, buffer)
  local content = answer and answer.result
  if type(content) ~= 'table' then
    say('there is no text at ' .. uri)
    return
  end
  vim.bo[buffer].modifiable = true
  vim.api.nvim_buf_set_lines(buffer, 0, -1, false, vim.split(content.text:gsub('\n$', ''), '\n'))
  vim.bo[buffer].buftype = 'nofile'
  vim.bo[buffer].swapfile = false
  vim.bo[buffer].modified = false
  vim.bo[buffer].modifiable = false
  local is_book = vim.endswith(uri, '.trug')
  vim.bo[buffer].filetype = is_book and 'trug' or 'markdown'
  if is_book then
    vim.lsp.buf_attach_client(buffer, client.id)
  end
end

return M
