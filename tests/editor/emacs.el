;; Works in a page as a hand would, and writes what it saw to the file that FINEWEIGHT_SEEN names.
(require 'json)

(defun seen-wait (what holds)
  (let ((end (+ (float-time) 20)))
    (while (not (funcall holds))
      (when (> (float-time) end) (error "Waited in vain for %s" what))
      (accept-process-output nil 0.05))))

(defun seen-go (text)
  (goto-char (point-min))
  (search-forward text)
  (backward-char 1))

(defun seen-findings ()
  (flymake-start)
  (mapcar (lambda (one)
            `((line . ,(line-number-at-pos (flymake-diagnostic-beg one))) (message . ,(flymake-diagnostic-text one))))
          (flymake-diagnostics)))

(defun seen-work ()
  (let (findings hover)
    (find-file "may.melt")
    ;; Without a screen nobody presses a key, and this is what a key would run.
    (run-hooks 'post-command-hook)
    (seen-wait "the server" #'eglot-current-server)
    (seen-wait "findings" (lambda () (setq findings (seen-findings))))

    (seen-go "in B1")
    (run-hook-with-args 'eldoc-documentation-functions
                        (lambda (text &rest _) (when (string-match-p "B1" (or text "")) (setq hover (substring-no-properties text)))))
    (seen-wait "a hover" (lambda () hover))

    (seen-go "58.61")
    (goto-char (match-beginning 0))
    (delete-region (match-beginning 0) (match-end 0))
    (insert "58.16")
    (eglot--signal-textDocument/didChange)
    (seen-wait "no finding" (lambda () (null (seen-findings))))

    (find-file-noselect "june.melt")
    (seen-go "out C1")
    (eglot-rename "C9")
    (save-some-buffers t)
    (eglot-shutdown (eglot-current-server))
    `((findings . ,(vconcat findings)) (hover . ,hover))))

(let ((seen (condition-case failure (seen-work) (error `((failed . ,(error-message-string failure)))))))
  (with-temp-file (getenv "FINEWEIGHT_SEEN") (insert (json-encode seen))))
