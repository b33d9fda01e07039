// What people wrote into a file beside the pixels: author, copyright, caption, and the other words.
#pragma once

#include <exiv2/exiv2.hpp>

#include "tedge/imaging/picture.hpp"

namespace tedge::imaging {

struct FileMetadata {
    const Exiv2::ExifData& exif;
    const Exiv2::IptcData& iptc;
    const Exiv2::XmpData& xmp;
};

// Fills what the file says and leaves the rest as it is. The words leave out what the other fields of `metadata` hold.
void add_what_people_wrote(const FileMetadata& file, PictureMetadata& metadata);

}  // namespace tedge::imaging
