// SPDX-License-Identifier: GPL-3.0-or-later
// The photos of a stop: those it has, and those that lie in the camera's folder, newest first; one
// tap takes one into the project. No window opens for it. The folder is typed once and kept for
// this machine.
#pragma once

#include "app/shell/session.h"
#include "core/fieldlog/photo.h"

#include <QWidget>

class QHBoxLayout;
class QLabel;
class QLineEdit;

namespace keyround {

class BigButton;

class PhotoPanel final : public QWidget
{
    Q_OBJECT
public:
    explicit PhotoPanel(Session &session, QWidget *parent = nullptr);

    void show(const PhotoOwner &owner);
    [[nodiscard]] QWidget *firstField() const;
    /// "2 photos"; "no photo".
    [[nodiscard]] static QString countWords(Session &session, const PhotoOwner &owner);

Q_SIGNALS:
    void done();
    void changed(); ///< a photo came or went

private:
    void buildLayout();
    void showTaken();
    void showFolder();
    void take(const QString &path);
    [[nodiscard]] BigButton *pictureButton(const QString &words, const QPixmap &picture,
                                           QWidget *parent);

    Session &m_session;
    PhotoOwner m_owner;
    QLineEdit *m_folder;
    QLabel *m_note;
    QLabel *m_takenWords;
    QHBoxLayout *m_taken;
    QHBoxLayout *m_offered;
    BigButton *m_done;
};

} // namespace keyround
