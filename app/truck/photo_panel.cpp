// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/photo_panel.h"

#include "app/commands/photo_commands.h"
#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/turns_line.h"

#include <QFileInfo>
#include <QImageReader>
#include <QLineEdit>
#include <QPainter>
#include <QScrollArea>
#include <QSettings>
#include <QStandardPaths>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

namespace {

constexpr const char *folderKey = "cameraFolder";
constexpr qsizetype offeredAtMost = 12; ///< a camera's folder may hold thousands

QString cameraFolder()
{
    return QSettings()
        .value(QLatin1String(folderKey),
               QStandardPaths::writableLocation(QStandardPaths::PicturesLocation))
        .toString();
}

/// Small from the start: a whole photo of 50 megapixels would take seconds.
QPixmap previewOf(const QString &path, int side)
{
    QImageReader reader(path);
    reader.setAutoTransform(true);
    const QSize size = reader.size();
    if (size.isValid()) {
        reader.setScaledSize(size.scaled(side, side, Qt::KeepAspectRatio));
    }
    return QPixmap::fromImage(reader.read());
}

void clear(QHBoxLayout *row)
{
    while (QLayoutItem *item = row->takeAt(0)) {
        if (QWidget *widget = item->widget()) {
            widget->hide();
            widget->deleteLater(); // it may be what is being pressed
        }
        delete item;
    }
}

QScrollArea *sideways(QHBoxLayout *&row, int height, QWidget *parent)
{
    auto *inner = new QWidget;
    row = new QHBoxLayout(inner);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(TruckScale::of(parent).gap);
    auto *scroll = new QScrollArea(parent);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setFocusPolicy(Qt::NoFocus);
    scroll->setFixedHeight(height);
    scroll->setWidget(inner);
    return scroll;
}

} // namespace

PhotoPanel::PhotoPanel(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_folder(new QLineEdit(this)),
      m_note(truckLabel(this, TextSize::Small)),
      m_takenWords(truckLabel(this, TextSize::Normal, true)), m_taken(nullptr), m_offered(nullptr),
      m_done(new BigButton(BigButton::Kind::Plain, tr("Back to the record"), this))
{
    m_folder->setObjectName(QStringLiteral("camera-folder"));
    m_folder->setAccessibleName(tr("Folder of the camera, or the file of a photo"));
    m_note->setObjectName(QStringLiteral("photo-note"));
    m_takenWords->setObjectName(QStringLiteral("photos-taken"));
    m_done->setObjectName(QStringLiteral("photos-done"));
    buildLayout();
    connect(m_folder, &QLineEdit::returnPressed, this, [this] {
        const QFileInfo typed(m_folder->text().trimmed());
        if (typed.isFile()) {
            take(typed.filePath());
        } else {
            showFolder();
            setRefused(m_folder, m_offered->count() < 2); // the stretch alone
        }
    });
    connect(m_done, &QAbstractButton::clicked, this, &PhotoPanel::done);
}

void PhotoPanel::buildLayout()
{
    const TruckScale scale = TruckScale::of(this);
    const int strip = scale.target + scale.gap * 2; // with its scroll bar
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(scale.gap);
    layout->addWidget(m_takenWords);
    layout->addWidget(sideways(m_taken, strip, this));
    auto *words = truckLabel(this);
    words->setText(tr("Folder of the camera, or the file of a photo; Enter looks there"));
    words->setBuddy(m_folder);
    layout->addWidget(words);
    auto *line = new QHBoxLayout;
    line->setSpacing(scale.gap);
    line->addWidget(m_folder, 3);
    line->addWidget(m_done, 2);
    layout->addLayout(line);
    layout->addWidget(m_note);
    layout->addWidget(sideways(m_offered, strip, this));
    layout->addStretch();
}

BigButton *PhotoPanel::pictureButton(const QString &words, const QPixmap &picture, QWidget *parent)
{
    const int side = TruckScale::of(this).target;
    auto *button = new BigButton(BigButton::Kind::Plain, words, parent);
    button->setFixedSize(side * 3, side);
    button->setMark([picture](QPainter &painter, const QRectF &where, const QColor &) {
        const QSizeF size = picture.size().scaled(where.size().toSize(), Qt::KeepAspectRatio);
        painter.drawPixmap(QRectF(where.center() - QPointF(size.width(), size.height()) / 2, size),
                           picture, QRectF(picture.rect()));
    });
    return button;
}

void PhotoPanel::show(const PhotoOwner &owner)
{
    m_owner = owner;
    m_folder->setText(cameraFolder());
    showTaken();
    showFolder();
}

QString PhotoPanel::countWords(Session &session, const PhotoOwner &owner)
{
    const std::size_t count = photosOf(session, owner).size();
    return count == 0 ? tr("no photo") : count == 1 ? tr("1 photo") : tr("%1 photos").arg(count);
}

void PhotoPanel::showTaken()
{
    clear(m_taken);
    const std::vector<Photo> photos = photosOf(m_session, m_owner);
    m_takenWords->setText(photos.empty() ? tr("No photo of this stop yet")
                                         : tr("%n photos of this stop; a tap takes one out",
                                              nullptr, static_cast<int>(photos.size())));
    for (const Photo &photo : photos) {
        QPixmap small;
        small.loadFromData(photo.thumbnail);
        auto *button =
            pictureButton(tr("Take out %1").arg(photo.fileName), small, m_taken->parentWidget());
        button->setObjectName(QStringLiteral("taken-photo-%1").arg(m_taken->count() + 1));
        connect(button, &QAbstractButton::clicked, this, [this, photo] {
            if (const Status struck = strikePhoto(m_session, photo); !struck) {
                setNote(m_note, NoteKind::Danger, struck.error().message);
                return;
            }
            showTaken();
            Q_EMIT changed();
        });
        m_taken->addWidget(button);
    }
    m_taken->addStretch();
}

void PhotoPanel::showFolder()
{
    clear(m_offered);
    const QString folder = m_folder->text().trimmed();
    const QStringList found = picturesIn(folder);
    setRefused(m_folder, false);
    if (found.isEmpty()) {
        setNote(m_note, NoteKind::Attention,
                tr("No picture (JPEG or PNG) lies in \"%1\". Type the folder of the camera or its "
                   "card.")
                    .arg(folder));
        m_offered->addStretch();
        return;
    }
    QSettings().setValue(QLatin1String(folderKey), folder);
    setNote(m_note, NoteKind::Quiet,
            tr("The newest %1 of %2 pictures; a tap takes one into the project.")
                .arg(std::min(offeredAtMost, found.size()))
                .arg(found.size()));
    const int side = TruckScale::of(this).target;
    for (const QString &path : found.mid(0, offeredAtMost)) {
        auto *button = pictureButton(QFileInfo(path).fileName(), previewOf(path, side),
                                     m_offered->parentWidget());
        button->setObjectName(QStringLiteral("offered-photo-%1").arg(m_offered->count() + 1));
        connect(button, &QAbstractButton::clicked, this, [this, path] { take(path); });
        m_offered->addWidget(button);
    }
    m_offered->addStretch();
}

void PhotoPanel::take(const QString &path)
{
    const auto added = addPhoto(m_session, m_owner, path);
    if (!added) {
        setNote(m_note, NoteKind::Danger, added.error().message);
        return;
    }
    setNote(m_note, NoteKind::Quiet,
            tr("%1 is in the project, with its hash.").arg(added->fileName));
    showTaken();
    Q_EMIT changed();
}

QWidget *PhotoPanel::firstField() const
{
    return m_done;
}

} // namespace keyround
