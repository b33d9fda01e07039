#include "pdf_finishing.hpp"

#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include "tedge/base/digest.hpp"

namespace tedge::dossier {

namespace {

const std::string program = "Tacking Edge";

QPDFObjectHandle text_object(const std::string& utf8) {
    return QPDFObjectHandle::newUnicodeString(utf8);
}
QPDFObjectHandle number(double value) {
    return QPDFObjectHandle::newReal(value, 2);
}

// "2026-03-03T12:00:00Z": whole seconds, for the two forms of a date must say the same (ISO 19005-1, 6.7.3).
std::string xmp_date(Instant now) {
    return to_text(now).substr(0, 19) + "Z";
}

std::string pdf_date(Instant now) {
    std::string date = "D:";
    for (const char c : to_text(now).substr(0, 19))
        if (c >= '0' && c <= '9') date += c;
    return date + "+00'00'";
}

std::string xml_escaped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '&') {
            out += "&amp;";
        } else if (c == '<') {
            out += "&lt;";
        } else if (c == '>') {
            out += "&gt;";
        } else if (static_cast<unsigned char>(c) >= 0x20) {
            out += c;
        }
    }
    return out;
}

// ISO 19005-1, 6.7: XMP 2004 with the identification schema, saying what the information dictionary says.
std::string xmp_packet(const std::string& title, Instant now) {
    const std::string date = xmp_date(now);
    return "<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
           "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n"
           "<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
           "<rdf:Description rdf:about=\"\" xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\">\n"
           "<pdfaid:part>1</pdfaid:part><pdfaid:conformance>B</pdfaid:conformance>\n</rdf:Description>\n"
           "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\">\n"
           "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">" +
           xml_escaped(title) +
           "</rdf:li></rdf:Alt></dc:title>\n</rdf:Description>\n"
           "<rdf:Description rdf:about=\"\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n"
           "<xmp:CreatorTool>" +
           program + "</xmp:CreatorTool><xmp:CreateDate>" + date + "</xmp:CreateDate><xmp:ModifyDate>" + date +
           "</xmp:ModifyDate>\n</rdf:Description>\n"
           "<rdf:Description rdf:about=\"\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\">\n"
           "<pdf:Producer>" +
           program + "</pdf:Producer>\n</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"w\"?>\n";
}

void write_metadata(QPDF& pdf, const std::string& title, const std::string& language, Instant now) {
    auto info = QPDFObjectHandle::newDictionary();
    info.replaceKey("/Title", text_object(title));
    info.replaceKey("/Creator", QPDFObjectHandle::newString(program));
    info.replaceKey("/Producer", QPDFObjectHandle::newString(program));
    info.replaceKey("/CreationDate", QPDFObjectHandle::newString(pdf_date(now)));
    info.replaceKey("/ModDate", QPDFObjectHandle::newString(pdf_date(now)));
    pdf.getTrailer().replaceKey("/Info", pdf.makeIndirectObject(info));

    auto metadata = QPDFObjectHandle::newStream(&pdf, xmp_packet(title, now));
    metadata.getDict().replaceKey("/Type", QPDFObjectHandle::newName("/Metadata"));
    metadata.getDict().replaceKey("/Subtype", QPDFObjectHandle::newName("/XML"));
    auto root = pdf.getRoot();
    root.replaceKey("/Metadata", metadata);
    root.replaceKey("/Lang", QPDFObjectHandle::newString(language));
    auto preferences = QPDFObjectHandle::newDictionary();
    preferences.replaceKey("/DisplayDocTitle", QPDFObjectHandle::newBool(true));
    root.replaceKey("/ViewerPreferences", preferences);
}

// A tree of bookmarks, children under the last of the level above.
struct Outline {
    QPDFObjectHandle item;
    std::vector<Outline> children;
};

void link_children(QPDFObjectHandle parent, std::vector<Outline>& children, bool open) {
    if (children.empty()) return;
    for (std::size_t i = 0; i < children.size(); ++i) {
        auto& item = children[i].item;
        item.replaceKey("/Parent", parent);
        if (i > 0) item.replaceKey("/Prev", children[i - 1].item);
        if (i + 1 < children.size()) item.replaceKey("/Next", children[i + 1].item);
        link_children(item, children[i].children, false);
    }
    parent.replaceKey("/First", children.front().item);
    parent.replaceKey("/Last", children.back().item);
    const auto count = static_cast<int>(children.size());
    parent.replaceKey("/Count", QPDFObjectHandle::newInteger(open ? count : -count));
}

QPDFObjectHandle outline_item(QPDF& pdf, const Bookmark& bookmark, const QPDFObjectHandle& page) {
    auto destination = QPDFObjectHandle::newArray();
    destination.appendItem(page);
    destination.appendItem(QPDFObjectHandle::newName("/XYZ"));
    destination.appendItem(QPDFObjectHandle::newNull());
    destination.appendItem(number(bookmark.top_from_foot_pt));
    destination.appendItem(QPDFObjectHandle::newNull());
    auto item = QPDFObjectHandle::newDictionary();
    item.replaceKey("/Title", text_object(bookmark.text));
    item.replaceKey("/Dest", destination);
    return pdf.makeIndirectObject(item);
}

void write_bookmarks(QPDF& pdf, const std::vector<Bookmark>& bookmarks) {
    if (bookmarks.empty()) return;
    const auto pages = QPDFPageDocumentHelper(pdf).getAllPages();
    Outline top{pdf.makeIndirectObject(QPDFObjectHandle::newDictionary()), {}};
    top.item.replaceKey("/Type", QPDFObjectHandle::newName("/Outlines"));
    for (const auto& bookmark : bookmarks) {
        Outline* above = &top;
        for (int level = 1; level < bookmark.level && !above->children.empty(); ++level)
            above = &above->children.back();
        auto page = pages.at(static_cast<std::size_t>(bookmark.page)).getObjectHandle();
        above->children.push_back({outline_item(pdf, bookmark, page), {}});
    }
    link_children(top.item, top.children, true);
    pdf.getRoot().replaceKey("/Outlines", top.item);
    pdf.getRoot().replaceKey("/PageMode", QPDFObjectHandle::newName("/UseOutlines"));
}

// The first half of the identity is for the document, made from what it is about; qpdf makes the second from the bytes.
void write_identity(QPDF& pdf, const std::string& title, Instant now) {
    const auto digest = sha256(title + '\0' + to_text(now));
    const auto half = QPDFObjectHandle::newString(std::string(digest.begin(), digest.begin() + 16));
    auto identity = QPDFObjectHandle::newArray();
    identity.appendItem(half);
    identity.appendItem(half);
    pdf.getTrailer().replaceKey("/ID", identity);
}

std::string written(QPDF& pdf) {
    QPDFWriter writer(pdf);
    writer.setOutputMemory();
    writer.setDeterministicID(true);
    writer.forcePDFVersion("1.4");               // ISO 19005-1 stands on PDF 1.4 …
    writer.setObjectStreamMode(qpdf_o_disable);  // … which has no object streams
    writer.setStreamDataMode(qpdf_s_compress);
    writer.write();
    const auto buffer = writer.getBufferSharedPointer();
    return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
}

}  // namespace

Expected<std::string> finish_pdf(const std::string& painted, const std::string& title, const std::string& language,
                                 const std::vector<Bookmark>& bookmarks, Instant now) {
    try {
        QPDF pdf;
        pdf.processMemoryFile("dossier", painted.data(), painted.size());
        write_metadata(pdf, title, language, now);
        write_bookmarks(pdf, bookmarks);
        write_identity(pdf, title, now);
        return written(pdf);
    } catch (const std::exception& failure) {
        return fail("pdf.unwritable", "The PDF could not be finished.", "Please report this.",
                    {{"detail", failure.what()}});
    }
}

}  // namespace tedge::dossier
