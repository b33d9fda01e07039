#include "shell_words.hpp"

namespace tedge::cli {

namespace {

class Splitter {
public:
    explicit Splitter(std::string_view line) : rest_(line) {}

    Expected<std::vector<std::string>> split() {
        while (!rest_.empty()) {
            const char c = take();
            if (c == ' ' || c == '\t') {
                finish_word();
            } else if (c == '\'' || c == '"') {
                if (!quoted(c)) {
                    return fail("usage.open-quote", "A quotation mark is not closed on this line.", "Close it.");
                }
            } else if (c == '\\') {
                if (!rest_.empty()) add(take());
            } else {
                add(c);
            }
        }
        finish_word();
        return words_;
    }

private:
    char take() {
        const char c = rest_.front();
        rest_.remove_prefix(1);
        return c;
    }

    void add(char c) {
        word_ += c;
        in_word_ = true;
    }

    void finish_word() {
        if (in_word_) words_.push_back(std::move(word_));
        word_.clear();
        in_word_ = false;
    }

    bool quoted(char mark) {
        in_word_ = true;
        while (!rest_.empty()) {
            const char c = take();
            if (c == mark) return true;
            // Inside double quotes a backslash keeps its meaning before these only (2.2.3).
            const bool escapes = c == '\\' && mark == '"' && !rest_.empty() &&
                                 std::string_view("$`\"\\").find(rest_.front()) != std::string_view::npos;
            add(escapes ? take() : c);
        }
        return false;
    }

    std::string_view rest_;
    std::vector<std::string> words_;
    std::string word_;
    bool in_word_ = false;
};

}  // namespace

Expected<std::vector<std::string>> shell_words(std::string_view line) {
    return Splitter(line).split();
}

}  // namespace tedge::cli
