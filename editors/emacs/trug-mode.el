;;; trug-mode.el --- Rations for animals as text  -*- lexical-binding: t; -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "28.1") (eglot "1.9"))
;; Keywords: languages
;; SPDX-License-Identifier: MIT OR Apache-2.0

;;; Commentary:

;; A major mode for texts of trug: colours, comments, indentation, an index of the items, and the language server by
;; eglot.  `trug-plan' shows the mixing plan of the ration point stands in.

;;; Code:

(require 'browse-url)
(require 'eglot)
(require 'imenu)
(require 'project)
(require 'subr-x)

(defgroup trug nil
  "Rations for animals as text."
  :group 'languages)

(defcustom trug-program "trug"
  "The tool, as a name that is found on the path or as a file."
  :type 'string)

(defcustom trug-settings '(:helpInMessage t)
  "The settings of the language server, as a property list.
Their names and values are those of the page on other editors: :hints,
:root, :today, :severity, :helpInMessage.  They count from the next
start of the server."
  :type 'plist)

(defcustom trug-indent-offset 2
  "How far the lines of an item are set in."
  :type 'integer
  :safe #'integerp)

;;;; What a line is made of

(defconst trug--items
  '("unit" "rate" "animal" "nutrient" "ingredient" "lot" "targets" "ration" "scale" "vessel" "method" "group"
    "record" "use")
  "The words that open an item, at the margin.")

(defconst trug--lines
  '("gives" "label" "form" "apart from" "never with" "never for" "meets" "beside" "limit" "drop" "replace" "mix by"
    "in" "eats" "weighed" "sampled" "fed to" "dry-matter" "price" "bulk-density" "sold in" "at most" "at least"
    "nothing else" "particle-size" "particle-density" "dose" "ceiling" "withdrawal" "caution" "source" "unverified" "received"
    "best before" "on hand" "batch" "intake" "keeps" "certainty" "small below" "pre-blend" "step" "weigh" "even"
    "floor" "lift" "portions" "placed on" "mix for" "made" "for" "turn" "accept")
  "The words that open an indented line.")

(defconst trug--joins
  '("rest" "giving" "parts" "part" "law" "harm" "small" "bulk" "within" "until" "by" "from" "to" "minimum" "assay"
    "mixing" "source" "unverified" "as fed" "as of" "at most" "at least" "or none" "on top" "not carrier" "from day"
    "to day" "at day" "of dry-matter" "for" "like" "is"
    "with" "lot" "of" "class" "per" "accept" "times" "book")
  "The words that join the rest of a line.")

(defun trug--any (words)
  "A regular expression for one of WORDS, whatever blanks stand in it."
  (let ((longest-first (sort (copy-sequence words) (lambda (one other) (> (length one) (length other))))))
    (concat "\\_<\\(?:"
            (mapconcat (lambda (word) (string-join (mapcar #'regexp-quote (split-string word)) "[ \t]+"))
                       longest-first "\\|")
            "\\)\\_>")))

(defconst trug--name "[[:alpha:]]\\(?:\\w\\|\\s_\\)*"
  "A regular expression for a name.")

(defconst trug--item
  (concat "^\\(" (trug--any trug--items) "\\)\\(?:[ \t]+\\(" trug--name "\\)\\)?")
  "A regular expression for the first line of an item and its name.")

(defconst trug--number "\\_<[0-9]+\\(?:\\.[0-9]+\\)?"
  "A regular expression for a number.")

(defconst trug-font-lock-keywords
  `((,trug--item (1 'font-lock-keyword-face) (2 'font-lock-function-name-face nil t))
    (,(concat "^[ \t]+\\(" (trug--any trug--lines) "\\)") 1 'font-lock-builtin-face)
    ;; An amount's name is never a word of the language, however it is spelt.
    (,(concat "^[ \t]+\\(" trug--name "\\)") 1 'font-lock-variable-name-face)
    (,(concat "\\_<accept[ \t]+\\([a-z]+/[a-z]+\\(?:-[a-z]+\\)*\\)") 1 'font-lock-constant-face)
    ("\\_<[0-9]\\{4\\}-[0-9]\\{2\\}-[0-9]\\{2\\}\\_>" 0 'font-lock-constant-face)
    ;; What follows such a word is a name.
    (,(concat "\\_<\\(lot\\|for\\|like\\|is\\|with\\|of\\|class\\)[ \t]+\\(" trug--name "\\)")
     (1 'font-lock-keyword-face)
     (2 (unless (looking-back "\\_<\\(?:mixing\\|dry-matter\\|at\\)" (line-beginning-position))
          'font-lock-variable-name-face)))
    (,(trug--any trug--joins) 0 'font-lock-keyword-face)
    (,(concat "\\(" trug--number "\\)[ \t]*\\(%\\|" trug--name "\\(?:/" trug--name "\\)?\\)")
     (1 'font-lock-constant-face)
     (2 'font-lock-type-face))
    (,trug--number 0 'font-lock-constant-face))
  "The colours of a text without the language server.")

(defvar trug-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?# "<" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?- "_" table)
    ;; A quote opens a text only where the same line closes it: see `trug--propertize'.
    (modify-syntax-entry ?\" "." table)
    (modify-syntax-entry ?' "." table)
    (modify-syntax-entry ?\\ "." table)
    (modify-syntax-entry ?% "." table)
    (modify-syntax-entry ?/ "." table)
    (modify-syntax-entry ?+ "." table)
    (modify-syntax-entry ?* "." table)
    (modify-syntax-entry ?= "." table)
    (modify-syntax-entry ?_ "." table)
    table)
  "What each character is in a text.")

(defun trug--propertize (start end)
  "Mark the texts in quotes from START to END, none over the end of its line."
  (goto-char start)
  (while (re-search-forward "[\"#]" end t)
    (let ((opening (1- (point))))
      (cond
       ((eq (char-after opening) ?#)
        (end-of-line))
       ((re-search-forward "\\=\\(?:[^\"\n]\\|\"\"\\)*\"" (line-end-position) t)
        (put-text-property opening (1+ opening) 'syntax-table (string-to-syntax "|"))
        (put-text-property (1- (point)) (point) 'syntax-table (string-to-syntax "|")))
       (t (end-of-line))))))

;;;; Indentation

(defun trug--indentation ()
  "Where the line at point belongs."
  (save-excursion
    (beginning-of-line)
    (cond
     ((looking-at (concat "[ \t]*" (trug--any trug--items) "\\(?:[ \t]\\|$\\)")) 0)
     ((bobp) 0)
     ;; A comment speaks of what is above or below it: only its writer knows.
     ((and (looking-at "[ \t]*#") (memq (current-indentation) (list 0 trug-indent-offset))) (current-indentation))
     (t
      ;; Below an item and below its lines a line is set in; below an empty line a new item is more likely.
      (let ((is-empty (looking-at "[ \t]*$")))
        (forward-line -1)
        (cond
         ((and is-empty (looking-at "[ \t]*$")) 0)
         ((looking-at "[ \t]*#") (current-indentation))
         (t
          (while (and (not (bobp)) (looking-at "[ \t]*\\(?:#\\|$\\)"))
            (forward-line -1))
          ;; Items of these kinds have no lines.
          (if (looking-at "\\(?:use\\|rate\\|unit\\|nutrient\\|scale\\|vessel\\)\\_>\\|[ \t]*\\(?:#\\|$\\)")
              0
            trug-indent-offset))))))))

(defun trug-indent-line ()
  "Indent the line at point; once more, put it to the other of its two places."
  (interactive)
  (let* ((is-again (and (eq this-command last-command) (eq this-command 'indent-for-tab-command)))
         (other (if (zerop (current-indentation)) trug-indent-offset 0))
         (wanted (if is-again other (trug--indentation)))
         (is-in-text (> (current-column) (current-indentation))))
    (if is-in-text
        (save-excursion (indent-line-to wanted))
      (indent-line-to wanted))))

;;;; The language server

(defun trug--contact (&rest _)
  "How the language server is started."
  (list trug-program "lsp" :initializationOptions trug-settings))

(add-to-list 'eglot-server-programs '(trug-mode . trug--contact))

(defun trug--project (folder)
  "The farm FOLDER belongs to, if a file `trug.root' is nearer than a repository."
  (let ((root (locate-dominating-file
               folder
               (lambda (above)
                 (or (file-exists-p (expand-file-name "trug.root" above))
                     (file-exists-p (expand-file-name ".git" above)))))))
    (when (and root (file-exists-p (expand-file-name "trug.root" root)))
      (cons 'transient root))))

(defvar trug--pages (make-hash-table :test #'equal)
  "The files of the pages that were shown, by address, command and ration.")

(defun trug--server ()
  "The language server of this buffer."
  (or (eglot-current-server)
      (user-error "The language server does not run here: start it with M-x eglot")))

(defun trug--uri ()
  "The address of the text of this buffer."
  (funcall (if (fboundp 'eglot-path-to-uri) 'eglot-path-to-uri 'eglot--path-to-uri) buffer-file-name))

(defun trug--arguments (uri ration)
  "The arguments of a command about RATION of the text at URI."
  (if ration (vector uri ration) (vector uri)))

(defun trug--write (html file)
  "Write HTML to FILE."
  (let ((coding-system-for-write 'utf-8-unix))
    (write-region html nil file nil 'silent)))

(defun trug--ration ()
  "The ration point stands in, if it stands in one."
  (save-excursion
    (end-of-line)
    (when (and (re-search-backward "^[^ \t\n#]" nil t)
               (looking-at (concat "ration[ \t]+\\(" trug--name "\\)")))
      (match-string-no-properties 1))))

(defun trug--show (command ration)
  "Show the page that COMMAND gives for RATION in a browser, and return its file."
  (let* ((server (trug--server))
         (uri (trug--uri))
         ;; The server has to have the text as it is, and not as it was before the last key.
         (_ (when (fboundp 'eglot--signal-textDocument/didChange) (eglot--signal-textDocument/didChange)))
         (html (jsonrpc-request server :workspace/executeCommand
                                (list :command command :arguments (trug--arguments uri ration))))
         (key (list uri command ration))
         (file (or (gethash key trug--pages)
                   (puthash key (make-temp-file "trug-" nil ".html") trug--pages))))
    (trug--write html file)
    (browse-url-of-file file)
    file))

(defun trug--ration-argument ()
  "The ration point stands in; with a prefix argument, all of the text."
  (list (unless current-prefix-arg (trug--ration))))

(defun trug-plan (&optional ration)
  "Show the mixing plan of RATION in a browser.
Without it, and with a prefix argument, of all rations of the text."
  (interactive (trug--ration-argument))
  (trug--show "trug.plan" ration))

(defun trug-analysis (&optional ration)
  "Show the analysis of RATION in a browser.
Without it, and with a prefix argument, of all rations of the text."
  (interactive (trug--ration-argument))
  (trug--show "trug.analyse" ration))

(defun trug-balance (&optional ration)
  "Show the cheapest open amounts of RATION, and why, in a browser.
Without it, and with a prefix argument, of all rations of the text."
  (interactive (trug--ration-argument))
  (trug--show "trug.balance" ration))

(defun trug-why (code)
  "Show the page of the finding CODE, such as `dose/over'."
  (interactive "sCode of the finding: ")
  (let ((page (jsonrpc-request (trug--server) :workspace/executeCommand
                               (list :command "trug.why" :arguments (vector code)))))
    (with-current-buffer (get-buffer-create (format "*trug %s*" code))
      (let ((inhibit-read-only t))
        (erase-buffer)
        (insert page)
        (goto-char (point-min)))
      (special-mode)
      (pop-to-buffer (current-buffer)))))

(cl-defmethod eglot-handle-notification (server (_method (eql trug/planChanged)) &key uri &allow-other-keys)
  "Draw the pages of the text at URI that SERVER was asked for again.
What it sent before it was ended may be read after that: then there is nobody to ask."
  (maphash
   (lambda (key file)
     (when (and (equal (car key) uri) (jsonrpc-running-p server))
       (jsonrpc-async-request
        server :workspace/executeCommand
        (list :command (nth 1 key) :arguments (trug--arguments uri (nth 2 key)))
        :success-fn (lambda (html) (trug--write html file))
        :error-fn #'ignore
        :timeout-fn #'ignore)))
   trug--pages))

;;;; Texts without a file

(defvar trug--books (make-hash-table :test #'equal)
  "The files that hold the bundled books and the pages of findings, by address.")

(defun trug--book (uri)
  "A file that holds the text at URI, an address of the scheme trug, for reading only."
  (or (gethash uri trug--books)
      (let* ((content (jsonrpc-request (trug--server) :workspace/textDocumentContent (list :uri uri)))
             (file (expand-file-name (file-name-nondirectory uri) (make-temp-file "trug-" t))))
        (trug--write (plist-get content :text) file)
        (set-file-modes file #o400)
        (puthash uri file trug--books))))

(defun trug--uri-to-path (known uri)
  "The file of URI: as KNOWN says, but for what only the server has."
  (let ((address (if (keywordp uri) (substring (symbol-name uri) 1) uri)))
    (if (and (stringp address) (string-prefix-p "trug:/" address))
        (trug--book address)
      (funcall known uri))))

(advice-add (if (fboundp 'eglot-uri-to-path) 'eglot-uri-to-path 'eglot--uri-to-path) :around #'trug--uri-to-path)

;;;; The mode

(defvar trug-mode-map
  (let ((map (make-sparse-keymap)))
    (define-key map (kbd "C-c C-p") #'trug-plan)
    (define-key map (kbd "C-c C-a") #'trug-analysis)
    (define-key map (kbd "C-c C-b") #'trug-balance)
    (define-key map (kbd "C-c C-w") #'trug-why)
    map)
  "The keys of a text.")

;;;###autoload
(define-derived-mode trug-mode prog-mode "Trug"
  "Major mode for rations for animals, written as text.
Start the language server with \\[eglot]."
  (setq-local comment-start "# ")
  (setq-local comment-start-skip "#+[ \t]*")
  (setq-local comment-end "")
  (setq-local font-lock-defaults '(trug-font-lock-keywords))
  (setq-local syntax-propertize-function #'trug--propertize)
  (setq-local indent-line-function #'trug-indent-line)
  (setq-local indent-tabs-mode nil)
  (setq-local tab-width 8)
  (setq-local imenu-generic-expression
              (mapcar (lambda (item)
                        (list (capitalize item)
                              (concat "^" item "[ \t]+\\(" trug--name "\\)") 1))
                      (remove "use" (remove "rate" trug--items))))
  (add-hook 'project-find-functions #'trug--project nil t))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.trug\\'" . trug-mode))

(provide 'trug-mode)

;;; trug-mode.el ends here
