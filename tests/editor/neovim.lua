-- Works in the page that is open, as a hand would, and writes what it saw to the file that FINEWEIGHT_SEEN names.
local function wait(what, holds)
  if not vim.wait(20000, holds, 20) then error("Waited in vain for " .. what) end
end

local function find(text)
  vim.fn.cursor(1, 1)
  assert(vim.fn.search("\\V" .. text, "ce") > 0, "No " .. text)
end

local function work()
  local seen = {}
  wait("findings", function() return #vim.diagnostic.get(0) > 0 end)
  seen.findings = vim.tbl_map(function(one)
    return { code = one.code, line = one.lnum + 1, message = one.message }
  end, vim.diagnostic.get(0))

  find("in B1")
  vim.lsp.buf.hover()
  wait("a hover", function() return #vim.api.nvim_list_wins() > 1 end)
  for _, window in ipairs(vim.api.nvim_list_wins()) do
    if window ~= vim.api.nvim_get_current_win() then
      seen.hover = table.concat(vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(window), 0, -1, false), "\n")
      vim.api.nvim_win_close(window, true)
    end
  end

  find("58.61")
  vim.api.nvim_buf_set_lines(0, vim.fn.line(".") - 1, vim.fn.line("."), false, { "  in B1 58.16 g on bench" })
  wait("no finding", function() return #vim.diagnostic.get(0) == 0 end)

  find("out C1")
  vim.lsp.buf.rename("C9")
  wait("the new name", function() return vim.fn.search("out C9", "w") > 0 end)
  vim.cmd("silent wall")
  return seen
end

local ok, seen = pcall(work)
if not ok then seen = { failed = tostring(seen) } end
vim.fn.writefile({ vim.fn.json_encode(seen) }, vim.env.FINEWEIGHT_SEEN)
vim.cmd("qall!")
