vim.filetype.add({ extension = { trug = 'trug' } })
