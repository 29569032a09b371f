" Vim syntax file
" Language: trug, rations for animals
" Licence:  MIT OR Apache-2.0
"
" A line at a time: no line can spoil the next. What opens an item, what opens a line and what joins the rest are told
" apart as in grammar/trug.pest; a test holds this file to it.

if exists('b:current_syntax')
  finish
endif

let s:cpo = &cpo
set cpo&vim

" ------------------------------------------------------------------------------------------------------------- parts

" Blanks of any script; a lone CR stands at the end of a line whose file was taken for one with LF.
let s:blank_set = ' \t\r\x0b\x0c\u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000'
let s:quote_set = '\u201c-\u201f\u00ab\u00bb'
" What is above ASCII and part of no name.
let s:sign_set = s:quote_set . '\u0080-\u009f\u00b1\u00b3\u00d7\u2012-\u2015\u2026\u2212\uff05'
let s:blank = '[' . s:blank_set . ']'
let s:letter = '\%(\a\|[^\x01-\x7f' . s:blank_set . s:sign_set . ']\)'
let s:more = '\%([-0-9A-Za-z]\|[^\x01-\x7f' . s:blank_set . s:sign_set . ']\)'
let s:end = s:more . '\@!'
let s:name = s:letter . s:more . '*'
let s:number = '[-+\u2212\u2013]\=\d\+\%(\.\d\+\)\='
let s:code = '\l\+/\l\+\%(-\l\+\)*'

" A word that may follow a number and is no unit.
let s:after_number = '\%(' . join(['of', 'on', 'or', 'at', 'assay', 'as', 'to', 'by', 'in', 'is', 'law', 'lot', 'for',
      \ 'not', 'per', 'bulk', 'from', 'harm', 'like', 'until', 'parts', 'part', 'small', 'class', 'within', 'accept',
      \ 'source', 'minimum', 'unverified'], '\|') . '\)' . s:end
let s:unit_word = '\%(%\|\%uff05\|' . s:name . '\%u00b3\=\)'
let s:unit = '\%(' . s:after_number . '\)\@!' . s:unit_word . '\%(/' . s:unit_word . '\)\='
let s:dry_matter = '\%(dry-matter\|dry' . s:blank . '\+matter\)'

" ------------------------------------------------------------------------------------------------------------- words

let s:items = ['unit', 'animal', 'nutrient', 'ingredient', 'lot', 'targets', 'ration', 'scale', 'vessel', 'method',
      \ 'group', 'record']
let s:lines_of_names = ['gives', 'label', 'form', 'apart from', 'never with', 'never for', 'meets', 'beside', 'limit',
      \ 'drop', 'replace', 'mix by', 'in', 'eats', 'weighed', 'sampled', 'fed to']
let s:lines = ['dry-matter', 'price', 'bulk-density', 'sold in', 'at most', 'at least', 'nothing else',
      \ 'particle-size', 'particle-density', 'dose', 'ceiling', 'withdrawal', 'caution', 'source', 'unverified', 'received', 'best before',
      \ 'on hand', 'batch', 'intake', 'keeps', 'certainty', 'pre-blend', 'step', 'weigh', 'even', 'floor',
      \ 'lift', 'portions', 'placed on', 'mix for', 'made']
let s:joins = ['rest', 'giving', 'parts', 'part', 'law', 'harm', 'small', 'bulk', 'within', 'until', 'by', 'from', 'to',
      \ 'minimum', 'assay', 'mixing', 'source', 'unverified', 'as', 'at', 'or', 'on', 'not', 'as fed', 'as of',
      \ 'at most', 'at least', 'or none', 'on top', 'not carrier', 'from day', 'to day', 'at day']
let s:joins_name = ['for', 'like', 'is', 'with', 'lot', 'of', 'class']

function! s:any(words) abort
  " Longer ones first: Vim takes the first that fits.
  let l:words = reverse(sort(copy(a:words)))
  return '\%(' . join(map(l:words, 'join(split(v:val), s:blank . "\\+")'), '\|') . '\)' . s:end
endfunction

" A match of a group, and what stands behind it, be it behind blanks that are not plain.
function! s:match(group, pattern, more) abort
  execute 'syntax match' a:group '~' . a:pattern . '~' a:more
endfunction

function! s:then(group) abort
  return 'nextgroup=' . a:group . ',trugBlank' . a:group[4:] . ' skipwhite'
endfunction

for s:next in ['trugNext', 'trugDeclared', 'trugUnit', 'trugCode', 'trugBook', 'trugMixing', 'trugTurns', 'trugTimes',
      \ 'trugBelow', 'trugCounted']
  call s:match('trugBlank' . s:next[4:], s:blank . '\+', 'contained transparent nextgroup=' . s:next)
endfor

" ------------------------------------------------------------- what may stand anywhere; what stands below wins

call s:match('trugName', s:name, '')
call s:match('trugOperator', '[-+\u2212\u2013*\u00d7/(=]', s:then('trugNext'))
call s:match('trugOperator', '+/\=-\|\.\.\|[)\u2026\u00b1]', '')
call s:match('trugNumber', s:number, s:then('trugUnit'))
call s:match('trugDate', '\d\{4}-\d\{2}-\d\{2}', '')
call s:match('trugText', '"\%([^"]\|""\)*"', 'contains=@Spell')
call s:match('trugText', '[' . s:quote_set . '][^' . s:quote_set . ']*[' . s:quote_set . ']', 'contains=@Spell')
call s:match('trugComment', '#.*$', 'contains=@Spell')

call s:match('trugWord', s:any(s:joins), '')
call s:match('trugWord', s:any(s:joins_name), s:then('trugNext'))
call s:match('trugWord', s:any(['in', 'per']), s:then('trugUnit'))
call s:match('trugWord', 'accept' . s:end, s:then('trugCode'))
call s:match('trugWord', 'of' . s:blank . '\+' . s:dry_matter . s:end, '')
call s:match('trugAtDryMatter', 'at' . s:blank . '\+' . s:number . s:blank . '*%' . s:blank . '\+' . s:dry_matter . s:end,
      \ 'transparent contains=trugAtPart,trugAtNumber,trugAtUnit')
call s:match('trugAtPart', 'at\|dry-matter\|dry\|matter', 'contained')
call s:match('trugAtNumber', s:number, 'contained')
call s:match('trugAtUnit', '%', 'contained')

" What stands behind a word or a number, even where it is spelt like a word of the language.
call s:match('trugNext', s:name, 'contained')
call s:match('trugDeclared', s:name, 'contained')
call s:match('trugCounted', s:name, 'contained')
call s:match('trugUnit', s:unit, 'contained')
call s:match('trugCode', s:code, 'contained')
call s:match('trugBook', 'book' . s:end, 'contained ' . s:then('trugNext'))
call s:match('trugMixing', '\%(mixing' . s:end . '\)\@!' . s:name, 'contained')
call s:match('trugMixingWord', 'mixing' . s:end, 'contained')
call s:match('trugTurns', s:number, 'contained ' . s:then('trugTimes'))
call s:match('trugTimes', 'times\=' . s:end, 'contained')
call s:match('trugBelow', 'below' . s:end, 'contained')

" ------------------------------------------------------------------------------------------------ how a line opens

let s:indent = '^' . s:blank . '\+\zs'
let s:margin = '^' . s:blank . '*\zs'

call s:match('trugLine', s:indent . s:any(s:lines), '')
call s:match('trugLine', s:indent . s:any(s:lines_of_names), s:then('trugNext'))
call s:match('trugLine', s:indent . 'for' . s:end, 'nextgroup=trugMixing,trugMixingWord,trugBlankMixing skipwhite')
call s:match('trugLine', s:indent . 'turn' . s:end, s:then('trugTurns'))
call s:match('trugLine', s:indent . 'accept' . s:end, s:then('trugCode'))
call s:match('trugLine', s:indent . 'small' . s:end, s:then('trugBelow'))
call s:match('trugCount', s:indent . s:number . '\ze' . s:blank . '\+' . s:name . s:blank . '*\%($\|#\|accept' . s:end . '\)',
      \ s:then('trugCounted'))

call s:match('trugItem', s:margin . s:any(s:items), s:then('trugDeclared'))
call s:match('trugItem', s:margin . 'use' . s:end, s:then('trugBook'))
call s:match('trugItem', s:margin . 'rate' . s:end, '')

highlight default link trugItem       Statement
highlight default link trugLine       Identifier
highlight default link trugWord       Keyword
highlight default link trugAtPart     trugWord
highlight default link trugBook       trugWord
highlight default link trugMixingWord trugWord
highlight default link trugTimes      trugWord
highlight default link trugBelow      trugWord
highlight default link trugDeclared   Function
highlight default link trugNumber     Number
highlight default link trugDate       trugNumber
highlight default link trugCount      trugNumber
highlight default link trugTurns      trugNumber
highlight default link trugAtNumber   trugNumber
highlight default link trugUnit       Type
highlight default link trugAtUnit     trugUnit
highlight default link trugText       String
highlight default link trugComment    Comment
highlight default link trugOperator   Operator
highlight default link trugCode       Constant

let b:current_syntax = 'trug'

let &cpo = s:cpo
unlet s:cpo
