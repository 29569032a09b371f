" What each character of each text is to the syntax file: run by a test over the texts that $TRUG_TEXTS lists, one path a
" line. Writes to $TRUG_TOKENS, a line for each run of characters: the path, the line from 0, first and last byte column
" from 0, and what it is.

set encoding=utf-8 fileencodings=ucs-bom,utf-8 noswapfile nomodeline synmaxcol=0 redrawtime=100000 shortmess+=AF
let g:kinds = {
      \ 'trugItem': 'item', 'trugLine': 'line', 'trugWord': 'word', 'trugAtPart': 'word',
      \ 'trugBook': 'word', 'trugMixingWord': 'word', 'trugTimes': 'word', 'trugBelow': 'word', 'trugName': 'name', 'trugNext': 'name',
      \ 'trugDeclared': 'name', 'trugCounted': 'name', 'trugMixing': 'name', 'trugCode': 'name', 'trugNumber': 'number',
      \ 'trugDate': 'number', 'trugCount': 'number', 'trugTurns': 'number', 'trugAtNumber': 'number', 'trugUnit': 'unit',
      \ 'trugAtUnit': 'unit', 'trugText': 'text', 'trugComment': 'comment', 'trugOperator': 'operator'}

function! s:tokens(path) abort
  let l:found = []
  for l:line in range(1, line('$'))
    let l:text = getline(l:line)
    let [l:start, l:kind, l:at] = [0, '', 0]
    while l:at < len(l:text)
      let l:here = get(g:kinds, synIDattr(synID(l:line, l:at + 1, 1), 'name'), '')
      if l:here !=# l:kind
        if l:kind !=# ''
          call add(l:found, join([a:path, l:line - 1, l:start, l:at, l:kind], "\t"))
        endif
        let [l:start, l:kind] = [l:at, l:here]
      endif
      let l:at += len(strpart(l:text, l:at, 1, v:true))
    endwhile
    if l:kind !=# ''
      call add(l:found, join([a:path, l:line - 1, l:start, l:at, l:kind], "\t"))
    endif
  endfor
  return l:found
endfunction

function! s:all() abort
  syntax on
  let l:all = []
  for l:path in readfile($TRUG_TEXTS)
    execute 'silent edit!' fnameescape(l:path)
    syntax clear
    unlet! b:current_syntax
    execute 'source' fnameescape($TRUG_SYNTAX)
    call extend(l:all, s:tokens(l:path))
    silent bwipeout!
  endfor
  call writefile(l:all, $TRUG_TOKENS)
endfunction

try
  call s:all()
  quitall!
catch
  call writefile([v:exception, v:throwpoint], $TRUG_TOKENS)
  cquit!
endtry
