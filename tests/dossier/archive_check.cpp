#include "archive_check.hpp"

#include <cmath>
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFOutlineDocumentHelper.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <set>

namespace tedge::test {

namespace {

class ArchiveCheck {
public:
    explicit ArchiveCheck(const std::string& bytes) : bytes_(bytes) {
        pdf_.setSuppressWarnings(true);
        pdf_.processMemoryFile("checked", bytes.data(), bytes.size());
    }

    std::vector<std::string> run() {
        check_file();
        check_identification();
        check_intent();
        for (auto& object : pdf_.getAllObjects()) check_object(object);
        return faults_;
    }

private:
    void want(bool good, const std::string& fault) {
        if (!good) faults_.push_back(fault);
    }

    void check_file() {
        want(bytes_.starts_with("%PDF-1.4\n%"), "6.1.2: header of PDF 1.4 with a binary comment");
        want(bytes_.size() > 14 && static_cast<unsigned char>(bytes_[10]) > 127, "6.1.2: binary comment");
        want(!pdf_.isEncrypted(), "6.1.3: no encryption");
        want(pdf_.getTrailer().getKey("/ID").isArray(), "6.1.3: file identifier");
        want(bytes_.find("/ObjStm") == std::string::npos && bytes_.find("/XRef") == std::string::npos,
             "PDF 1.4 has no object streams");
        want(pdf_.getWarnings().empty(), "damaged file");
    }

    void check_identification() {
        auto metadata = pdf_.getRoot().getKey("/Metadata");
        want(metadata.isStream(), "6.7.2: metadata");
        if (!metadata.isStream()) return;
        want(!metadata.getDict().hasKey("/Filter"), "6.7.2: metadata uncompressed");
        const auto buffer = metadata.getStreamData();
        const std::string xmp(reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize());
        want(xmp.find("<pdfaid:part>1</pdfaid:part>") != std::string::npos, "6.7.11: part 1");
        want(xmp.find("<pdfaid:conformance>B</pdfaid:conformance>") != std::string::npos, "6.7.11: level B");
        auto info = pdf_.getTrailer().getKey("/Info");
        const std::string date = info.getKey("/CreationDate").getUTF8Value();  // D:YYYYMMDDHHMMSS+00'00'
        const std::string same = date.substr(2, 4) + "-" + date.substr(6, 2) + "-" + date.substr(8, 2) + "T" +
                                 date.substr(10, 2) + ":" + date.substr(12, 2) + ":" + date.substr(14, 2) + "Z";
        want(xmp.find("<xmp:CreateDate>" + same + "</xmp:CreateDate>") != std::string::npos, "6.7.3: dates agree");
        want(xmp.find(info.getKey("/Title").getUTF8Value()) != std::string::npos, "6.7.3: titles agree");
    }

    void check_intent() {
        auto intents = pdf_.getRoot().getKey("/OutputIntents");
        want(intents.isArray() && intents.getArrayNItems() == 1, "6.2.2: one output intent");
        if (!intents.isArray() || intents.getArrayNItems() < 1) return;
        auto intent = intents.getArrayItem(0);
        want(intent.getKey("/S").isNameAndEquals("/GTS_PDFA1"), "6.2.2: intent of PDF/A");
        auto profile = intent.getKey("/DestOutputProfile");
        want(profile.isStream() && profile.getDict().getKey("/N").getIntValueAsInt() == 3, "6.2.2: RGB profile");
    }

    void check_object(QPDFObjectHandle object) {
        auto dictionary = object.isStream() ? object.getDict() : object;
        if (!dictionary.isDictionary()) return;
        for (const std::string key : {"/AA", "/JS", "/EmbeddedFiles", "/OCProperties", "/XFA"})
            want(!dictionary.hasKey(key), "6.6, 6.1.11: no " + key);
        if (object.isStream()) {
            want(!dictionary.hasKey("/F"), "6.1.7: no external streams");
            want(dictionary.getKey("/Filter").unparse().find("LZW") == std::string::npos, "6.1.10: no LZW");
        }
        check_transparency(dictionary);
        check_image(dictionary);
        check_font(dictionary);
    }

    void check_transparency(QPDFObjectHandle dictionary) {
        want(!dictionary.hasKey("/SMask") || dictionary.getKey("/SMask").isNameAndEquals("/None"), "6.4: no soft mask");
        want(!dictionary.getKey("/S").isNameAndEquals("/Transparency"), "6.4: no transparency group");
        for (const std::string key : {"/ca", "/CA"})
            if (dictionary.getKey(key).isNumber())
                want(std::abs(dictionary.getKey(key).getNumericValue() - 1.0) < 1e-9, "6.4: opaque " + key);
        auto blend = dictionary.getKey("/BM");
        if (blend.isName())
            want(blend.getName() == "/Normal" || blend.getName() == "/Compatible",
                 "6.4: blend mode " + blend.getName());
        want(!dictionary.hasKey("/TR"), "6.2.8: no transfer functions");
    }

    void check_image(QPDFObjectHandle dictionary) {
        if (!dictionary.getKey("/Subtype").isNameAndEquals("/Image")) return;
        want(!dictionary.hasKey("/Alternates") && !dictionary.hasKey("/OPI"), "6.2.4: plain images");
        want(!dictionary.getKey("/Interpolate").isBool() || !dictionary.getKey("/Interpolate").getBoolValue(),
             "6.2.4: no interpolation");
        const std::string space = dictionary.getKey("/ColorSpace").unparse();
        want(space.find("CMYK") == std::string::npos, "6.2.3: no colours beside the intent");
    }

    void check_font(QPDFObjectHandle dictionary) {
        if (!dictionary.getKey("/Type").isNameAndEquals("/FontDescriptor")) return;
        want(dictionary.hasKey("/FontFile") || dictionary.hasKey("/FontFile2") || dictionary.hasKey("/FontFile3"),
             "6.3.4: font embedded");
    }

    const std::string& bytes_;
    QPDF pdf_;
    std::vector<std::string> faults_;
};

void add_outline(const std::vector<QPDFOutlineObjectHelper>& items, int level, PdfView& view) {
    for (auto item : items) {
        view.outline.push_back(std::string(static_cast<std::size_t>(2 * level), ' ') + item.getTitle());
        add_outline(item.getKids(), level + 1, view);
    }
}

// Strings of PDF are written in UTF-16 where they are not ASCII: both readings are kept.
void add_object(QPDFObjectHandle object, PdfView& view) {
    view.decoded += object.isStream() ? object.getDict().unparse() : object.unparseResolved();
    view.decoded += '\n';
    if (!object.isStream()) return;
    // A JPEG picture stays as it is: its bytes are what a reader gets.
    const bool decodes = object.pipeStreamData(nullptr, 0, qpdf_dl_specialized, true);
    const auto buffer = decodes ? object.getStreamData(qpdf_dl_specialized) : object.getRawStreamData();
    view.decoded.append(reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize());
    view.decoded += '\n';
}

}  // namespace

std::vector<std::string> archive_faults(const std::string& pdf) {
    return ArchiveCheck(pdf).run();
}

PdfView view_of(const std::string& pdf) {
    QPDF file;
    file.processMemoryFile("viewed", pdf.data(), pdf.size());
    PdfView view;
    view.pages = static_cast<int>(QPDFPageDocumentHelper(file).getAllPages().size());
    add_outline(QPDFOutlineDocumentHelper(file).getTopLevelOutlines(), 0, view);
    auto info = file.getTrailer().getKey("/Info");
    view.title = info.getKey("/Title").getUTF8Value();
    for (const auto& key : info.getKeys()) {
        view.information_keys.push_back(key);
        view.decoded += info.getKey(key).getUTF8Value() + "\n";
    }
    for (auto& object : file.getAllObjects()) add_object(object, view);
    return view;
}

}  // namespace tedge::test
