// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/file_checks.h"

#include "core/exchange/gdal_session.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QtEndian>

#include <cpl_string.h>
#include <cpl_vsi.h>

#include <array>

namespace keyround {

namespace {

constexpr qint64 megabyte = qint64{1024} * 1024;

enum class Content { Text, Json, Xml, Sqlite, Zip, Gzip, OldOffice, Pdf, Shape, OsmPbf, Unknown };

struct KnownName
{
    const char *ending;
    FileFormat format;
    Content content;
};

constexpr std::array knownNames{
    KnownName{".osm.pbf", {"OSM", "an OpenStreetMap extract (PBF)"}, Content::OsmPbf},
    KnownName{".pbf", {"OSM", "an OpenStreetMap extract (PBF)"}, Content::OsmPbf},
    KnownName{".osm", {"OSM", "an OpenStreetMap extract (XML)"}, Content::Xml},
    KnownName{".csv", {"CSV", "a table in text (CSV)", true}, Content::Text},
    KnownName{".tsv", {"CSV", "a table in text (CSV)", true}, Content::Text},
    KnownName{".tab", {"CSV", "a table in text (CSV)", true}, Content::Text},
    KnownName{".txt", {"CSV", "a table in text (CSV)", true}, Content::Text},
    KnownName{".xlsx", {"XLSX", "a spreadsheet (XLSX)"}, Content::Zip},
    KnownName{".ods", {"ODS", "a spreadsheet (ODS)"}, Content::Zip},
    KnownName{".gpkg", {"GPKG", "a GeoPackage"}, Content::Sqlite},
    KnownName{".shp", {"ESRI Shapefile", "a shapefile"}, Content::Shape},
    KnownName{".geojson", {"GeoJSON", "GeoJSON"}, Content::Json},
    KnownName{".json", {"GeoJSON", "GeoJSON"}, Content::Json},
};

QString wordsFor(Content content)
{
    switch (content) {
    case Content::Text:
        return QStringLiteral("plain text");
    case Content::Json:
        return QStringLiteral("JSON");
    case Content::Xml:
        return QStringLiteral("XML");
    case Content::Sqlite:
        return QStringLiteral("an SQLite database");
    case Content::Zip:
        return QStringLiteral("a zip archive (spreadsheets are zips inside too)");
    case Content::Gzip:
        return QStringLiteral("a gzip archive");
    case Content::OldOffice:
        return QStringLiteral("an old or password-protected office file (save it as XLSX, without "
                              "a password)");
    case Content::Pdf:
        return QStringLiteral("a PDF");
    case Content::Shape:
        return QStringLiteral("a shapefile");
    case Content::OsmPbf:
        return QStringLiteral("an OpenStreetMap extract (PBF)");
    case Content::Unknown:
        break;
    }
    return QStringLiteral("something unknown");
}

Content contentOf(const QByteArray &head)
{
    if (head.startsWith("SQLite format 3")) {
        return Content::Sqlite;
    }
    if (head.startsWith("PK\x03\x04") || head.startsWith("PK\x05\x06")) {
        return Content::Zip;
    }
    if (head.startsWith("\x1F\x8B")) {
        return Content::Gzip;
    }
    if (head.startsWith("\xD0\xCF\x11\xE0")) {
        return Content::OldOffice;
    }
    if (head.startsWith("%PDF")) {
        return Content::Pdf;
    }
    if (head.startsWith(QByteArray("\0\0\x27\x0A", 4))) {
        return Content::Shape;
    }
    if (head.left(64).contains("OSMHeader")) {
        return Content::OsmPbf;
    }
    if (head.startsWith("\xFF\xFE") || head.startsWith("\xFE\xFF")) {
        return Content::Text;
    }
    if (head.contains('\0')) {
        return Content::Unknown;
    }
    QByteArray start = head.startsWith("\xEF\xBB\xBF") ? head.sliced(3) : head;
    start = start.trimmed();
    if (start.startsWith('{') || start.startsWith('[')) {
        return Content::Json;
    }
    return start.startsWith('<') ? Content::Xml : Content::Text;
}

tl::unexpected<Error> bad(const QString &message)
{
    return fail(ErrorCode::BadInput, message);
}

Status cutShort(const QString &name, qint64 said, qint64 size)
{
    return bad(
        QStringLiteral("%1 is cut short: it should hold %2 bytes and holds %3. Copy it again.")
            .arg(name)
            .arg(said)
            .arg(size));
}

/// The header of an SQLite file says how many pages it has (sqlite.org/fileformat.html, 1.3).
Status checkGeoPackage(const QByteArray &head, const QString &name, qint64 size)
{
    if (head.size() < 100) {
        return bad(QStringLiteral("%1 is cut short: a GeoPackage has a header of 100 bytes. Copy "
                                  "it again.")
                       .arg(name));
    }
    const auto *bytes = reinterpret_cast<const uchar *>(head.constData());
    const int stored = qFromBigEndian<quint16>(bytes + 16);
    const qint64 pageSize = stored == 1 ? 65536 : stored;
    const qint64 pages = qFromBigEndian<quint32>(bytes + 28);
    const bool counted = qFromBigEndian<quint32>(bytes + 24) == qFromBigEndian<quint32>(bytes + 92);
    if (counted && pages * pageSize > size) {
        return cutShort(name, pages * pageSize, size);
    }
    const QByteArray id = head.mid(68, 4);
    if (id != "GPKG" && id != "GP10" && id != "GP11") {
        return bad(QStringLiteral("%1 is an SQLite database but no GeoPackage: its application id "
                                  "is not GPKG.")
                       .arg(name));
    }
    return {};
}

/// The header of a .shp or .shx says its length in 16-bit words; that of a .dbf its records.
Status checkShapefile(const QString &path)
{
    const QFileInfo info(path);
    const auto beside = [&info](const QString &ending) {
        for (const QString &form : {ending, ending.toUpper()}) {
            const QFileInfo other(info.dir().filePath(info.completeBaseName() + form));
            if (other.exists()) {
                return other.filePath();
            }
        }
        return QString();
    };
    for (const QString &ending : {QStringLiteral(".shx"), QStringLiteral(".dbf")}) {
        if (beside(ending).isEmpty()) {
            return bad(QStringLiteral("%1%2 is missing: a shapefile is a .shp, .shx, .dbf and .prj "
                                      "of one name. Copy them all.")
                           .arg(info.completeBaseName(), ending));
        }
    }
    for (const QString &part : {path, beside(QStringLiteral(".shx"))}) {
        QFile file(part);
        const QByteArray head = file.open(QIODevice::ReadOnly) ? file.read(100) : QByteArray();
        const auto *bytes = reinterpret_cast<const uchar *>(head.constData());
        if (head.size() < 100 || qFromBigEndian<quint32>(bytes) != 9994) {
            return bad(QStringLiteral("%1 is damaged: it does not start as a part of a shapefile "
                                      "does. Copy it again.")
                           .arg(QFileInfo(part).fileName()));
        }
        const qint64 said = 2 * static_cast<qint64>(qFromBigEndian<quint32>(bytes + 24));
        if (said > file.size()) {
            return cutShort(QFileInfo(part).fileName(), said, file.size());
        }
    }
    QFile table(beside(QStringLiteral(".dbf")));
    const QByteArray head = table.open(QIODevice::ReadOnly) ? table.read(32) : QByteArray();
    const auto *bytes = reinterpret_cast<const uchar *>(head.constData());
    if (head.size() < 32) {
        return bad(
            QStringLiteral("%1 is cut short. Copy it again.").arg(QFileInfo(table).fileName()));
    }
    const qint64 said = qFromLittleEndian<quint16>(bytes + 8) +
                        static_cast<qint64>(qFromLittleEndian<quint32>(bytes + 4)) *
                            qFromLittleEndian<quint16>(bytes + 10);
    return said > table.size() ? cutShort(QFileInfo(table).fileName(), said, table.size())
                               : Status();
}

/// A spreadsheet must be a whole zip, hold the part that makes it one, and not unpack to more than
/// a computer of the field can hold.
Status checkSpreadsheet(const QString &path, const FileFormat &format, const QString &name)
{
    const GdalMessages messages;
    const QByteArray root = QByteArray("/vsizip/{") + path.toUtf8() + "}";
    const CPLStringList parts(VSIReadDirRecursive(root.constData()));
    if (parts.Count() == 0) {
        return bad(QStringLiteral("%1 is cut short or damaged: its parts cannot be listed. Copy it "
                                  "again, or save it again.")
                       .arg(name));
    }
    const QByteArray heart =
        QByteArray(format.driver) == "XLSX" ? "xl/workbook.xml" : "content.xml";
    qint64 unpacked = 0;
    for (int i = 0; i < parts.Count(); ++i) {
        VSIStatBufL stat{};
        const QByteArray part = root + "/" + parts[i];
        if (VSIStatL(part.constData(), &stat) == 0) {
            unpacked += static_cast<qint64>(stat.st_size);
        }
    }
    if (unpacked > mostTextBytes) {
        return bad(
            QStringLiteral("%1 would unpack to %2 MB; at most %3 MB are taken. Save the rows "
                           "as CSV.")
                .arg(name)
                .arg(unpacked / megabyte)
                .arg(mostTextBytes / megabyte));
    }
    if (parts.FindString(heart.constData()) < 0) {
        return bad(QStringLiteral("%1 is a zip archive but not %2. If it is a zip of other files, "
                                  "unpack it first.")
                       .arg(name, QLatin1String(format.words)));
    }
    return {};
}

Result<FileFormat> checkFolder(const QString &path, const QString &name)
{
    if (!name.endsWith(QLatin1String(".gdb"), Qt::CaseInsensitive)) {
        return bad(QStringLiteral("%1 is a folder. Choose a file in it.").arg(name));
    }
    if (QDir(path).entryList({QStringLiteral("*.gdbtable")}, QDir::Files).isEmpty()) {
        return bad(QStringLiteral("%1 is named like a file geodatabase but has no tables in it. "
                                  "Copy the whole folder again.")
                       .arg(name));
    }
    return FileFormat{"OpenFileGDB", "a file geodatabase", false};
}

Result<const KnownName *> knownName(const QString &name)
{
    for (const KnownName &known : knownNames) {
        if (name.endsWith(QLatin1String(known.ending), Qt::CaseInsensitive)) {
            return &known;
        }
    }
    if (name.endsWith(QLatin1String(".zip"), Qt::CaseInsensitive)) {
        return bad(
            QStringLiteral("%1 is a zip archive. Unpack it and choose a file in it.").arg(name));
    }
    for (const char *part : {".dbf", ".shx", ".prj", ".cpg"}) {
        if (name.endsWith(QLatin1String(part), Qt::CaseInsensitive)) {
            return bad(QStringLiteral("%1 is one part of a shapefile. Choose the .shp beside it.")
                           .arg(name));
        }
    }
    return bad(
        QStringLiteral("%1 has a name that is not known. Taken are %2.").arg(name, formatsTaken()));
}

Result<FileFormat> checkContent(const QString &path, const QString &name, qint64 size,
                                const KnownName &known)
{
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("%1 cannot be read: %2. Check who may read it.")
                        .arg(name, file.errorString()));
    }
    const QByteArray head = file.read(4096);
    const Content content = contentOf(head);
    const bool sureOfText = content != Content::Unknown && content != Content::Json;
    const bool fits =
        known.format.isText ? content == Content::Text || !sureOfText : content == known.content;
    if (!fits) {
        return bad(QStringLiteral("%1 is named like %2 but holds %3. Was it renamed?")
                       .arg(name, QLatin1String(known.format.words), wordsFor(content)));
    }
    Status whole;
    if (known.content == Content::Sqlite) {
        whole = checkGeoPackage(head, name, size);
    } else if (known.content == Content::Shape) {
        whole = checkShapefile(path);
    } else if (known.content == Content::Zip) {
        whole = checkSpreadsheet(path, known.format, name);
    }
    return whole ? Result<FileFormat>(known.format) : tl::unexpected(whole.error());
}

} // namespace

QString formatsTaken()
{
    return QStringLiteral("CSV, XLSX, ODS, GeoPackage (.gpkg), shapefile (.shp), GeoJSON, file "
                          "geodatabase (.gdb) and OpenStreetMap (.osm, .osm.pbf)");
}

Result<FileFormat> checkFile(const QString &path)
{
    const QFileInfo info(path);
    const QString name = info.fileName().isEmpty() ? path : info.fileName();
    if (path.isEmpty() || !info.exists()) {
        return fail(
            ErrorCode::NotFound,
            QStringLiteral("There is no file \"%1\". Check its name and folder.").arg(path));
    }
    if (info.isDir()) {
        return checkFolder(path, QDir(path).dirName());
    }
    if (!info.isFile()) {
        return bad(QStringLiteral("%1 is not an ordinary file.").arg(name));
    }
    if (info.size() == 0) {
        return bad(QStringLiteral("%1 is empty (0 bytes). Export it again.").arg(name));
    }
    const Result<const KnownName *> known = knownName(name);
    if (!known) {
        return tl::unexpected(known.error());
    }
    const qint64 most =
        (*known)->format.isText || (*known)->content == Content::Json ? mostTextBytes : mostBytes;
    if (info.size() > most) {
        return bad(
            QStringLiteral("%1 holds %2 MB; at most %3 MB are taken. Cut it down to your own "
                           "area first.")
                .arg(name)
                .arg(info.size() / megabyte)
                .arg(most / megabyte));
    }
    return checkContent(path, name, info.size(), **known);
}

} // namespace keyround
