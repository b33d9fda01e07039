#include "pdf_text.hpp"

#include <map>
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFOutlineDocumentHelper.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QUtil.hh>
#include <vector>

namespace tedge::dossier {

namespace {

using Characters = std::map<std::string, std::string>;  // code in the page's strings -> UTF-8

std::string utf8_of(const std::string& utf16_be) {
    return QUtil::utf16_to_utf8("\xFE\xFF" + utf16_be);
}

// The code `steps` after this one, in its last byte; ranges never pass it (ISO 32000-1, 9.10.3).
std::string later(std::string code, int steps) {
    if (!code.empty()) code.back() = static_cast<char>(static_cast<unsigned char>(code.back()) + steps);
    return code;
}

int last_byte(const std::string& code) {
    return code.empty() ? 0 : static_cast<unsigned char>(code.back());
}

// Reads the operators of a ToUnicode map.
class CharacterMap final : public QPDFObjectHandle::ParserCallbacks {
public:
    void handleObject(QPDFObjectHandle object) override {
        if (!object.isOperator()) {
            operands_.push_back(object);
            return;
        }
        const std::string name = object.getOperatorValue();
        if (name == "endbfchar") add_single_codes();
        if (name == "endbfrange") add_ranges();
        operands_.clear();
    }
    void handleEOF() override {}

    Characters characters;

private:
    void add_single_codes() {
        for (std::size_t i = 0; i + 1 < operands_.size(); i += 2)
            if (operands_[i].isString() && operands_[i + 1].isString())
                characters[operands_[i].getStringValue()] = utf8_of(operands_[i + 1].getStringValue());
    }

    void add_ranges() {
        for (std::size_t i = 0; i + 2 < operands_.size(); i += 3) {
            if (!operands_[i].isString() || !operands_[i + 1].isString()) continue;
            const std::string first = operands_[i].getStringValue();
            const int count = last_byte(operands_[i + 1].getStringValue()) - last_byte(first) + 1;
            for (int k = 0; k < count; ++k) {
                auto target = operands_[i + 2];
                if (target.isArray()) target = target.getArrayItem(k);
                if (!target.isString()) continue;
                const std::string text = target.getStringValue();
                characters[later(first, k)] = utf8_of(operands_[i + 2].isArray() ? text : later(text, k));
            }
        }
    }

    std::vector<QPDFObjectHandle> operands_;
};

std::size_t code_length(const Characters& characters) {
    return characters.empty() ? 1 : characters.begin()->first.size();
}

// Follows the fonts of a page and writes down what is shown.
class PageText final : public QPDFObjectHandle::ParserCallbacks {
public:
    PageText(const QPDFObjectHandle& fonts, std::string& text) : fonts_(fonts), text_(text) {}

    void handleObject(QPDFObjectHandle object) override {
        if (!object.isOperator()) {
            operands_.push_back(object);
            return;
        }
        const std::string name = object.getOperatorValue();
        if (name == "Tf" && operands_.size() == 2 && operands_[0].isName()) choose_font(operands_[0].getName());
        if (name == "Tj" || name == "TJ" || name == "'" || name == "\"") {
            for (auto& operand : operands_) show(operand);
        }
        if (name == "ET") text_ += '\n';
        operands_.clear();
    }
    void handleEOF() override {}

private:
    void choose_font(const std::string& name) {
        const auto known = maps_.find(name);
        current_ = known != maps_.end() ? &known->second : &maps_.emplace(name, map_of(name)).first->second;
    }

    Characters map_of(const std::string& name) {
        if (!fonts_.isDictionary()) return {};
        auto map = fonts_.getKey(name).getKey("/ToUnicode");
        if (!map.isStream()) return {};
        CharacterMap reader;
        QPDFObjectHandle::parseContentStream(map, &reader);
        return std::move(reader.characters);
    }

    void show(QPDFObjectHandle operand) {
        if (operand.isArray()) {
            for (auto& item : operand.getArrayAsVector()) show(item);
        }
        if (!operand.isString() || current_ == nullptr) return;
        const std::string codes = operand.getStringValue();
        const std::size_t length = code_length(*current_);
        for (std::size_t i = 0; i + length <= codes.size(); i += length) {
            const auto character = current_->find(codes.substr(i, length));
            if (character != current_->end()) text_ += character->second;
        }
    }

    QPDFObjectHandle fonts_;
    std::string& text_;
    std::map<std::string, Characters> maps_;
    const Characters* current_ = nullptr;
    std::vector<QPDFObjectHandle> operands_;
};

void add_bookmarks(const std::vector<QPDFOutlineObjectHelper>& items, std::string& text) {
    for (auto item : items) {
        text += item.getTitle() + "\n";
        add_bookmarks(item.getKids(), text);
    }
}

void add_metadata(QPDF& file, std::string& text) {
    auto info = file.getTrailer().getKey("/Info");
    if (info.isDictionary()) {
        for (const auto& key : info.getKeys())
            if (info.getKey(key).isString()) text += info.getKey(key).getUTF8Value() + "\n";
    }
    auto metadata = file.getRoot().getKey("/Metadata");
    if (!metadata.isStream()) return;
    const auto buffer = metadata.getStreamData();
    text.append(reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize());
    text += '\n';
}

}  // namespace

Expected<std::string> text_in_pdf(const std::string& pdf) {
    std::string text;
    try {
        QPDF file;
        file.setSuppressWarnings(true);
        file.processMemoryFile("written", pdf.data(), pdf.size());
        for (auto& page : QPDFPageDocumentHelper(file).getAllPages()) {
            PageText reader(page.getAttribute("/Resources", false).getKey("/Font"), text);
            page.parseContents(&reader);
            text += '\n';
        }
        add_bookmarks(QPDFOutlineDocumentHelper(file).getTopLevelOutlines(), text);
        add_metadata(file, text);
    } catch (const std::exception& problem) {
        return fail("pdf.unreadable", "The PDF that was just made cannot be read again.",
                    "Try again; if it stays so, report it.", {{"reason", problem.what()}});
    }
    return text;
}

}  // namespace tedge::dossier
