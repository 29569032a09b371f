;;; editor.el --- Works in a real Emacs as a user does  -*- lexical-binding: t; -*-

;;; Commentary:

;;   emacs --batch -l editor.el MODE_FOLDER EXAMPLE_FOLDER TRUG
;;
;; Opens a copy of an example with twice the premix that its label bears, and looks until what a user would see is
;; there.  Ends with what was seen where it is not.

;;; Code:

(require 'cl-lib)
(require 'package)

(defconst trug-test-patience 30
  "How many seconds something is waited for.")

(defvar trug-test-farm (file-name-as-directory (make-temp-file "trug-farm-" t)))

(defun trug-test-expect (what probe)
  "Look until PROBE gives a list that starts with non-nil; else fail with WHAT and what was seen."
  (let ((deadline (+ (float-time) trug-test-patience))
        (seen (funcall probe)))
    (while (and (not (car seen)) (< (float-time) deadline))
      (accept-process-output nil 0.02)
      (setq seen (funcall probe)))
    (unless (car seen)
      (error "%s was not there; seen: %S" what (cdr seen)))
    (princ (format "seen: %s\n" what))))

(defun trug-test-text (file)
  "The text of FILE."
  (with-temp-buffer
    (insert-file-contents file)
    (buffer-string)))

(defun trug-test-go-to (words)
  "Put point at the beginning of WORDS."
  (goto-char (point-min))
  (search-forward words)
  (goto-char (match-beginning 0)))

(defun trug-test-tell-server ()
  "Send the edits: a batch is never idle."
  (eglot--signal-textDocument/didChange))

(defun trug-test-prepare (example)
  "Copy EXAMPLE and spoil an amount of it."
  (copy-directory example trug-test-farm nil t t)
  (write-region "" nil (expand-file-name "trug.root" trug-test-farm) nil 'silent)
  (with-temp-file (expand-file-name "rations.trug" trug-test-farm)
    (insert-file-contents (expand-file-name "rations.trug" trug-test-farm))
    (search-forward "duck-premix    2.5 kg/t")
    (replace-match "duck-premix    6.0 kg/t")))

(defun trug-test-findings ()
  "What Flymake shows: where each finding begins and ends, its kind and its words."
  (mapcar (lambda (one)
            (list (flymake-diagnostic-beg one) (flymake-diagnostic-end one)
                  (flymake-diagnostic-type one) (flymake-diagnostic-text one)))
          (flymake-diagnostics)))

(defun trug-test-finding-at (words)
  "What Flymake shows of the family of ceilings at WORDS."
  (save-excursion
    (trug-test-go-to words)
    (cl-find-if (lambda (one) (and (= (nth 0 one) (point)) (string-match-p "harm/ceiling" (nth 3 one))))
                (trug-test-findings))))

(defun trug-test-mode ()
  "The mode and how it works without the server."
  (trug-test-expect "the mode, with its way to write comments"
               (lambda () (list (and (eq major-mode 'trug-mode) (equal comment-start "# "))
                                major-mode comment-start)))
  (font-lock-ensure)
  (trug-test-expect "words, names, numbers, units, texts and comments in their colours"
               (lambda ()
                 (let ((faces (mapcar (lambda (words)
                                        (trug-test-go-to words)
                                        (get-text-property (point) 'face))
                                      '("ration laying-mash" "laying-mash \"" "meets " "sorghum    " "160 g" "g/day"
                                        "\"Laying mash" "takes up"))))
                   (cons (equal faces '(font-lock-keyword-face font-lock-function-name-face font-lock-builtin-face
                                        font-lock-variable-name-face font-lock-constant-face font-lock-type-face
                                        font-lock-string-face font-lock-comment-face))
                         faces))))
  (let ((before (buffer-substring-no-properties (point-min) (point-max))))
    (indent-region (point-min) (point-max))
    (trug-test-expect "the lines where they were, indented by the mode"
                 (lambda () (list (equal before (buffer-substring-no-properties (point-min) (point-max))) (buffer-substring-no-properties (point-min) (point-max)))))))

(defun trug-test-diagnostic ()
  "The finding at the amount."
  (trug-test-expect "the dose above the ceiling, at its amount"
               (lambda ()
                 (let ((found (trug-test-finding-at "6.0 kg/t")))
                   (cons (and found
                              (= (- (nth 1 found) (nth 0 found)) (length "6.0 kg/t"))
                              (eq (nth 2 found) 'eglot-error)
                              (string-match-p "duck-premix" (nth 3 found)))
                         (trug-test-findings))))))

(defun trug-test-hover ()
  "What is said at point."
  (trug-test-go-to "6.0 kg/t")
  (let ((said nil))
    (eglot-hover-eldoc-function (lambda (words &rest _) (setq said words)))
    (trug-test-expect "a hover that says what the line weighs"
                 (lambda () (list (and said (string-match-p "720 g" said)) said)))))

(defun trug-test-completion ()
  "What is offered for the letters typed."
  (let ((before (buffer-substring-no-properties (point-min) (point-max))))
    (end-of-line)
    (insert "\n  goat-m")
    (trug-test-tell-server)
    (completion-at-point)
    (trug-test-expect "an ingredient of the store written out"
                 (lambda () (let ((line (buffer-substring (line-beginning-position) (point))))
                              (list (string-prefix-p "  goat-minerals" line) line))))
    (delete-region (line-beginning-position) (line-end-position))
    (delete-char -1)
    (cl-assert (equal before (buffer-substring-no-properties (point-min) (point-max))))
    (trug-test-tell-server)))

(defun trug-test-plan ()
  "The page of the ration point stands in; it is drawn again when the text is mended."
  (trug-test-go-to "6.0 kg/t")
  (let* ((opened nil)
         (page (cl-letf (((symbol-function 'browse-url-of-file) (lambda (file) (setq opened file))))
                 (call-interactively #'trug-plan)
                 opened)))
    (trug-test-expect "the page of a ration that cannot be planned, which says why"
                 (lambda () (list (string-match-p "duck-premix" (trug-test-text page)) (trug-test-text page))))
    page))

(defun trug-test-book ()
  "A name that a bundled book declares."
  (let ((text (current-buffer)))
    (trug-test-go-to "methionine  # as")
    (switch-to-buffer text)
    (xref-find-definitions (xref-backend-identifier-at-point 'eglot))
    (trug-test-expect "the book that declares a nutrient, for reading only"
                      (lambda ()
                        (let ((line (buffer-substring-no-properties (line-beginning-position) (line-end-position))))
                          (list (and (string-suffix-p "nutrients.trug" buffer-file-name)
                                     buffer-read-only
                                     (string-prefix-p "nutrient methionine" line))
                                buffer-file-name line))))
    (delete-directory (file-name-directory buffer-file-name) t)
    (kill-buffer)
    (switch-to-buffer text)
    (trug-test-go-to "6.0 kg/t")))

(defun trug-test-rename ()
  "A new name over the files of the farm."
  (beginning-of-line)
  (search-forward "duck-premix")
  (backward-char 3)
  (cl-letf (((symbol-function 'y-or-n-p) (lambda (&rest _) t)))
    (eglot-rename "river-premix"))
  (save-some-buffers t)
  (trug-test-expect "the new name in the ration and in the store, the old one nowhere"
               (lambda ()
                 (let* ((files (directory-files-recursively trug-test-farm "\\.trug\\'"))
                        (having (lambda (name)
                                  (cl-loop for file in files
                                           when (string-match-p (concat "^[^#\n]*\\_<" name "\\_>") (trug-test-text file))
                                           collect (file-relative-name file trug-test-farm))))
                        (new (funcall having "river-premix"))
                        (old (funcall having "duck-premix")))
                   (list (and (null old) (member "rations.trug" new) (member "coop/store.trug" new)) new old))))
  (trug-test-tell-server)
  (trug-test-expect "the finding under the new name"
               (lambda ()
                 (let ((found (trug-test-finding-at "6.0 kg/t")))
                   (cons (and found (string-match-p "river-premix" (nth 3 found))) (trug-test-findings))))))

(defun trug-test-mended (page)
  "No error is left; PAGE is drawn again."
  (trug-test-go-to "6.0 kg/t")
  (delete-char 3)
  (insert "2.5")
  (trug-test-tell-server)
  (trug-test-expect "no error once the amount is right"
               (lambda () (cons (not (cl-find 'eglot-error (trug-test-findings) :key #'cl-third)) (trug-test-findings))))
  (trug-test-expect "the page drawn again with the plan"
               (lambda () (list (string-match-p "<svg" (trug-test-text page)) (trug-test-text page)))))

(defun trug-test-end ()
  "The server ends when it is told to, before eglot would end it by force."
  (let* ((server (eglot-current-server))
         (process (jsonrpc--process server)))
    (setq eglot-autoreconnect nil)
    (jsonrpc-request server :shutdown nil)
    (jsonrpc-notify server :exit nil)
    (trug-test-expect "the server ended in order"
                      (lambda () (list (and (eq (process-status process) 'exit) (zerop (process-exit-status process)))
                                       (process-status process) (process-exit-status process))))))

(defun trug-test-run (folder example trug)
  "All of it: the mode in FOLDER, on a copy of EXAMPLE, with TRUG."
  (package-initialize)
  (add-to-list 'load-path folder)
  (require 'trug-mode)
  (setq trug-program trug
        trug-settings '(:helpInMessage t :today "2026-11-25")
        eglot-sync-connect t
        make-backup-files nil
        auto-save-default nil
        inhibit-message t)
  (trug-test-prepare example)
  (find-file (expand-file-name "rations.trug" trug-test-farm))
  (trug-test-mode)
  (apply #'eglot (eglot--guess-contact))
  (flymake-start)
  (trug-test-diagnostic)
  (trug-test-hover)
  (trug-test-completion)
  (trug-test-book)
  (let ((page (trug-test-plan)))
    (trug-test-rename)
    (trug-test-mended page)
    (delete-file page))
  (trug-test-end))

(let ((failure nil))
  (condition-case problem
      (apply #'trug-test-run (mapcar #'expand-file-name command-line-args-left))
    (error (setq failure (error-message-string problem))))
  (setq command-line-args-left nil)
  (delete-directory trug-test-farm t)
  (when failure
    (princ (format "Emacs: %s\n" failure) #'external-debugging-output))
  (kill-emacs (if failure 1 0)))

;;; editor.el ends here
