// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/gdal_session.h"

#include <cpl_conv.h>
#include <cpl_vsi.h>
#include <ogr_srs_api.h>
#include <ogrsf_frmts.h>

#include <atomic>
#include <mutex>

namespace keyround {

void prepareGdal()
{
    static std::once_flag once;
    std::call_once(once, [] {
        // What is said on a thread where nobody listens must not reach the terminal either.
        CPLSetErrorHandler(CPLQuietErrorHandler);
        OSRSetPROJEnableNetwork(FALSE);
        RegisterOGRCSV();
        RegisterOGRXLSX();
        RegisterOGRODS();
        RegisterOGRGeoPackage();
        RegisterOGRShape();
        RegisterOGRGeoJSON();
        RegisterOGROpenFileGDB();
        RegisterOGROSM();
        RegisterOGRGPX();
    });
}

GdalMessages::GdalMessages()
{
    prepareGdal();
    CPLErrorReset();
    CPLPushErrorHandlerEx(&GdalMessages::take, this);
}

GdalMessages::~GdalMessages()
{
    CPLPopErrorHandler();
    CPLErrorReset();
}

void CPL_STDCALL GdalMessages::take(CPLErr kind, CPLErrorNum number, const char *text)
{
    Q_UNUSED(number)
    constexpr qsizetype mostKept = 100;
    auto *self = static_cast<GdalMessages *>(CPLGetErrorHandlerUserData());
    QStringList &list = kind >= CE_Failure ? self->m_failures : self->m_warnings;
    if (kind >= CE_Warning && list.size() < mostKept) {
        list << QString::fromUtf8(text).simplified();
    }
}

GdalSetting::GdalSetting(const char *key, const char *value) : m_key(key)
{
    CPLSetThreadLocalConfigOption(key, value);
}

GdalSetting::~GdalSetting()
{
    CPLSetThreadLocalConfigOption(m_key, nullptr);
}

MemoryFile::MemoryFile(QByteArray bytes, const QString &baseName) : m_bytes(std::move(bytes))
{
    static std::atomic<unsigned> counter{0};
    m_path = QStringLiteral("/vsimem/keyround-%1/%2").arg(counter++).arg(baseName).toUtf8();
    VSILFILE *file =
        VSIFileFromMemBuffer(m_path.constData(), reinterpret_cast<GByte *>(m_bytes.data()),
                             static_cast<vsi_l_offset>(m_bytes.size()), FALSE);
    if (file != nullptr) {
        VSIFCloseL(file);
    }
}

MemoryFile::~MemoryFile()
{
    if (!m_path.isEmpty()) {
        VSIUnlink(m_path.constData());
    }
}

} // namespace keyround
